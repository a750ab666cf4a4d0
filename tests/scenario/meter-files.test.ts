import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, describe, expect, test } from 'vitest'
import { InputError } from '../../src/errors.ts'
import { meterYear } from '../../src/scenario/files/meter-year.ts'
import { readScenario } from '../../src/scenario/read-scenario.ts'

const folder = mkdtempSync(join(tmpdir(), 'lifetally-meter-'))
afterAll(() => rmSync(folder, { recursive: true, force: true }))

/** Energy of an hour of the year, kWh: another in each hour of the day, more in summer. */
const use = (hour: number): number => 0.2 + (hour % 24) / 100 + Math.floor(hour / 24) / 10_000
const YEAR = Float64Array.from({ length: 8760 }, (_, hour) => use(hour))
const plain = { file: 'use.csv', column: null, minus: null }
const read = (text: string, meter: Partial<typeof plain> | { column: string; minus?: string } = {}) =>
  meterYear(text, { ...plain, ...meter })
const told = (text: string, meter = {}): string => {
  try {
    read(text, meter)
  } catch (error) {
    if (error instanceof InputError) return error.message
    throw error
  }
  return 'nothing is wrong'
}

/** Rows of a year of steps, each with its date, from a start. */
function dated(
  stepsAnHour: number,
  row: (hour: number, when: Date) => string,
  start = Date.UTC(2023, 0, 1),
  days = 365,
): string[] {
  return Array.from({ length: days * 24 * stepsAnHour }, (_, step) => {
    const when = new Date(start + (step * 3_600_000) / stepsAnHour)
    return row(Math.floor(step / stepsAnHour), when)
  })
}
const iso = (when: Date): string => when.toISOString().slice(0, 16).replace('T', ' ')
const hourOfYear = (when: Date): number =>
  (Date.UTC(2023, when.getUTCMonth(), when.getUTCDate(), when.getUTCHours()) - Date.UTC(2023, 0, 1)) / 3_600_000
const largestGap = (kwh: Float64Array): number => Math.max(...kwh.map((value, hour) => Math.abs(value - use(hour))))

describe('a year of energy from a file as meters write it', () => {
  test.each([
    ['hours', 1, 'kwh', 1],
    ['half-hours', 2, 'Usage (kWh)', 0.5],
    ['quarter-hours', 4, 'KWH', 0.25],
    ['quarter-hours in Wh', 4, 'import [Wh]', 250],
    ['half-hours of power in kW', 2, 'Power kW', 1],
    ['hours of power in W', 1, 'P_W', 1000],
  ] as const)('%s, without dates', (_, steps, header, factor) => {
    const rows = Array.from({ length: 8760 * steps }, (_, step) => use(Math.floor(step / steps)) * factor)
    expect(largestGap(read(`${header}\n${rows.join('\n')}\n`).kwh)).toBeLessThan(1e-12)
  })

  test('of a leap year the 29 February is left out', () => {
    const rows = dated(2, (_, when) => `${iso(when)},${use(hourOfYear(when)) / 2}`, Date.UTC(2024, 0, 1), 366)
    const withDates = read(`time,kwh\n${rows.join('\n')}\n`)
    expect(largestGap(withDates.kwh)).toBeLessThan(1e-12)
    const without = read(`kwh\n${rows.map(row => row.split(',')[1]).join('\n')}\n`)
    expect(without.kwh).toEqual(withDates.kwh)
  })

  test.each([
    ['2023-07-01T00:30:00+01:00', (when: Date) => `${when.toISOString().slice(0, 19)}+01:00`],
    [
      '31/12/2023 13:00',
      (when: Date) =>
        `${String(when.getUTCDate())}/${when.getUTCMonth() + 1}/2023 ${when.getUTCHours()}:${String(when.getUTCMinutes()).padStart(2, '0')}`,
    ],
    [
      '12/31/2023 1:00 PM',
      (when: Date) =>
        `${when.getUTCMonth() + 1}/${when.getUTCDate()}/2023 ${when.getUTCHours() % 12 || 12}:${String(when.getUTCMinutes()).padStart(2, '0')} ${when.getUTCHours() < 12 ? 'AM' : 'PM'}`,
    ],
    [
      '31.12.2023;13:00 with decimal commas',
      (when: Date) =>
        `${when.getUTCDate()}.${when.getUTCMonth() + 1}.2023 ${when.getUTCHours()}:${String(when.getUTCMinutes()).padStart(2, '0')}`,
    ],
  ])('dates such as %s', (name, write) => {
    const comma = name.includes('commas')
    const cell = (kwh: number) => (comma ? kwh.toFixed(6).replace('.', ',') : kwh.toFixed(6))
    const sign = comma ? ';' : ','
    const rows = dated(2, (hour, when) => `${write(when)}${sign}${cell(use(hour) / 2)}`)
    expect(largestGap(read(`Date${sign}kWh\n${rows.join('\n')}\n`).kwh)).toBeLessThan(2e-6)
  })

  test('a file that begins in July, or whose rows say when a step ends, is put where it belongs', () => {
    const july = dated(1, (_, when) => `${iso(when)},${use(hourOfYear(when))}`, Date.UTC(2022, 6, 1))
    expect(largestGap(read(`time,kwh\n${july.join('\n')}\n`).kwh)).toBeLessThan(1e-12)
    const ends = dated(2, (hour, when) => `${iso(new Date(when.getTime() + 1_800_000))},${use(hour) / 2}`)
    expect(largestGap(read(`time,kwh\n${ends.join('\n')}\n`).kwh)).toBeLessThan(1e-12)
  })

  test('columns by name in any case; one less another; below zero taken as nothing, with a note', () => {
    const rows = Array.from({ length: 8760 }, (_, hour) => `${use(hour) + 1},${hour === 5 ? 9 : 1}`)
    const year = read(`Grid_In,grid_out\n${rows.join('\n')}\n`, { column: 'grid_in', minus: 'GRID_OUT' })
    expect(year.kwh[5]).toBe(0)
    expect(year.kwh[6]).toBeCloseTo(use(6), 12)
    expect(year.notes).toEqual([
      'use.csv: the column Grid_In names no unit; it is taken as kWh.',
      'use.csv: the column grid_out names no unit; it is taken as kWh.',
      'use.csv: 1 hours are below zero and are taken as 0.',
    ])
  })

  test('a few missing hours are filled from the days around, with a note; the hour of a clock change too', () => {
    const rows = dated(1, (hour, when) => (hour >= 2000 && hour < 2030 ? '' : `${iso(when)},${use(hour)}`)).filter(
      Boolean,
    )
    const year = read(`time,kwh\n${rows.join('\n')}\n`)
    expect(year.notes).toEqual(['use.csv: 30 hours are missing and are filled from the days around.'])
    expect(largestGap(year.kwh)).toBeLessThan(1e-4)
    const cells = Array.from(YEAR, (kwh, hour) => (hour === 99 ? 'n/a' : String(kwh)))
    expect(read(`kwh\n${cells.join('\n')}\n`).notes).toEqual([
      'use.csv: 1 hour is missing and is filled from the days around.',
    ])
  })

  test.each([
    [
      'a half year',
      `kwh\n${'1\n'.repeat(4380)}`,
      'found 4380 rows without dates; allowed: 8760 hours, 17520 half-hours or 35040 quarter-hours, or the same with a 29 February (8784, 17568, 35136)',
    ],
    [
      'no column of energy',
      `use\n${'1\n'.repeat(8760)}`,
      'no column names kWh, Wh, kW or W; found use. Write  {file: use.csv, column: NAME}',
    ],
    [
      'two columns of energy',
      `in_kwh,out_kwh\n${'1,1\n'.repeat(8760)}`,
      'several columns hold energy: in_kwh, out_kwh. Write  {file: use.csv, column: in_kwh}, and minus: for one to take off',
    ],
    [
      'a word among numbers',
      `kwh\n${'1\n'.repeat(8759)}much\n`,
      'kwh: found "much"; allowed: a number, or nothing where none was measured',
    ],
    [
      'too many gaps',
      `kwh\n${'\n'.repeat(0)}${'1\n'.repeat(8000)}${'-\n'.repeat(760)}`,
      '760 hours of the year are missing, 760 of them in a row; at most 175 are filled from the days around, 72 in a row. Take a file of another year',
    ],
    [
      'rows of ten minutes',
      `time,kwh\n${dated(6, (_, when) => `${iso(when)},1`, Date.UTC(2023, 0, 1), 10).join('\n')}\n`,
      'its rows are 10 minutes apart; allowed: 60, 30 or 15 minutes',
    ],
    [
      'two years',
      `time,kwh\n${dated(1, (_, when) => `${iso(when)},1`, Date.UTC(2022, 0, 1), 730).join('\n')}\n`,
      'its rows run over 730 days; keep one year of them',
    ],
  ])('%s is refused with a message', (_, text, message) => {
    expect(told(text)).toContain(message)
  })
})

test('errors of files are reported together with those of the scenario', () => {
  writeFileSync(join(folder, 'use.csv'), 'kwh\n1\n2\n')
  writeFileSync(join(folder, 'light.csv'), 'ghi\n1\n')
  const text = `site:
  panels: 20
  panel_w: 440
  location: {latitude: 47, hourly_csv: light.csv}
  load: {hourly_csv: use.csv}
  generation: {arrays: [{panels: 20, tilt: 25, azimuth: south}]}
  energy_value: {import_price_per_kwh: 0.3, export_price_per_kwh: 0.08}
prices_from_evidence: yes
options: [{name: A, topology: string, upfront_cost: cheap, inverter_kw: 6}]
`
  try {
    readScenario(text, 'quote.yaml', folder)
    expect.unreachable()
  } catch (error) {
    if (!(error instanceof InputError)) throw error
    expect(error.problems.map(({ file, line }) => [file, line])).toEqual([
      ['quote.yaml', 9],
      ['use.csv', null],
      ['light.csv', 1],
      ['light.csv', null],
    ])
  }
})

test('a scenario names columns of its file', () => {
  writeFileSync(join(folder, 'meter.csv'), `in,out\n${Array.from(YEAR, kwh => `${kwh + 1},1`).join('\n')}\n`)
  const text = `site:
  panels: 20
  panel_w: 440
  location: {latitude: 47, climate: sunny}
  load: {hourly_csv: {file: meter.csv, column: in, minus: out}}
  generation: {arrays: [{panels: 20, tilt: 25, azimuth: south}]}
  energy_value: {import_price_per_kwh: 0.3, export_price_per_kwh: 0.08}
prices_from_evidence: yes
options: [{name: A, topology: string, upfront_cost: 6900, inverter_kw: 6}]
`
  const { site, notes } = readScenario(text, 'quote.yaml', folder)
  expect(site.load?.form === 'hourly' ? site.load.hourlyKwh[7] : null).toBeCloseTo(use(7), 9)
  expect(notes.some(note => note.text.startsWith('meter.csv: the column in names no unit'))).toBe(true)
})
