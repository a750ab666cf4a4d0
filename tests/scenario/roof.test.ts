import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { InputError } from '../../src/errors.ts'
import type { Scenario } from '../../src/scenario/model.ts'
import { readScenario } from '../../src/scenario/read-scenario.ts'

/** A valid roof; tests change one thing in it. */
const ROOF = `site:
  location: {latitude: 47.2, climate: temperate}
  generation:
    arrays:
      - {name: south, panels: 12, panel_w: 400, tilt: 30, azimuth: 180, input: 1}
      - {name: west, panels: 8, panel_w: 400, tilt: 30, azimuth: 270, input: 2}
  energy_value: {import_price_per_kwh: 0.3, export_price_per_kwh: 0.08}
visit: {call_out: 140, roof_access: 60}
options:
  - name: Some
    topology: string-some-optimisers
    upfront_cost: 6900
    optimisers_on: {west: 3}
    components:
      - {kind: string-inverter, ac_kw: 6, replacement: {parts: 900, labour: 260}}
      - {kind: optimiser, count: 3, replacement: {parts: 60, labour: 90}}
`

function changed(from: string, to: string): string {
  if (!ROOF.includes(from)) throw new Error(`the roof does not hold: ${from}`)
  return ROOF.replace(from, to)
}

function messageOf(text: string, folder = '.'): string {
  try {
    readScenario(text, 'roof.yaml', folder)
  } catch (error) {
    if (error instanceof InputError) return error.message
    throw error
  }
  return 'no problem'
}

function read(text: string, folder = '.'): Scenario {
  return readScenario(text, 'roof.yaml', folder)
}

describe('a roof of arrays is read', () => {
  test('as written, with what is left out filled in', () => {
    const scenario = read(ROOF)
    const { generation, panels } = scenario.site
    expect(panels).toBe(20)
    if (generation.form !== 'arrays') throw new Error('no arrays')
    expect(generation.lossesShare).toBe(0.07)
    expect(generation.arrays[0]).toEqual({
      name: 'south',
      panels: 12,
      panelW: 400,
      tiltDegrees: 30,
      azimuthDegrees: 180,
      input: 1,
      strings: null,
      wiring: null,
      mounting: 'close-roof',
      shade: { word: null, windows: [], horizon: [] },
    })
    expect(scenario.notes.map(note => note.code)).toContain('typical-climate')
    // two inputs are used by one inverter (O4)
    expect(scenario.options[0]?.populations[0]?.strings).toBe(2)
  })

  test('every figure of the chain that is read is listed with its source', () => {
    const { assumptions } = read(ROOF)
    const listed = assumptions.filter(one => one.key.startsWith('roof.'))
    expect(listed.length).toBeGreaterThan(8)
    expect(listed.every(one => one.source !== '' && one.known !== 'yours')).toBe(true)
    // no word for shade, no hourly file: their figures are not read
    expect(listed.map(one => one.key)).not.toContain('roof.shade_word.light')
    expect(listed.map(one => one.key)).not.toContain('roof.sub_hourly_uplift')
  })

  test('shadows: panels from the first, or from one to another, or all', () => {
    const text = changed(
      'input: 2}',
      `input: 2, shade: [
          {months: [10, 2], hours: [14.5, 18], panels: 3, beam_lost: 80%},
          {months: [1, 12], hours: [6, 9], panels: [4, 6], beam_lost: 0.5},
          {months: [6, 6], hours: [6, 9], beam_lost: 100%}]}`,
    )
    const { generation } = read(text).site
    const windows = generation.form === 'arrays' ? generation.arrays[1]?.shade.windows : []
    expect(windows?.map(({ firstPanel, panels }) => [firstPanel, panels])).toEqual([
      [0, 3],
      [3, 3],
      [0, 8],
    ])
    expect(windows?.map(window => window.beamLost)).toEqual([0.8, 0.5, 1])
  })

  test('with a load self_consumed is not drawn, and a note says when both are given', () => {
    const text = changed('  energy_value:', '  load: {annual_kwh: 4000}\n  energy_value:')
    const plain = read(text)
    expect(plain.unknowns.map(unknown => unknown.name).join()).not.toContain('self_consumed')
    expect(plain.site.load).toEqual({ form: 'day-evening', annualKwh: 4000 })
    const both = read(text.replace('export_price', 'self_consumed: 40%, export_price'))
    expect(both.notes.map(note => note.code)).toContain('load-rules')
  })
})

describe('a malformed roof is refused with the whole message', () => {
  const cases = [
    {
      name: 'arrays without a location',
      text: changed('  location: {latitude: 47.2, climate: temperate}\n', ''),
      message: 'roof.yaml:1:1  site.location\n  missing; arrays need the place of the roof',
    },
    {
      name: 'two skies',
      text: changed('climate: temperate', 'climate: temperate, hourly_csv: a.csv'),
      message: 'roof.yaml:2:50  site.location.hourly_csv\n  "hourly_csv" and "climate" both state the light; keep one',
    },
    {
      name: 'no sky',
      text: changed(', climate: temperate', ''),
      message:
        'roof.yaml:2:3  site.location\n  says no light; give one of monthly_ghi_kwh_m2_day, climate, hourly_csv, e.g. climate: temperate',
    },
    {
      name: 'a climate that is none',
      text: changed('climate: temperate', 'climate: temprate'),
      message:
        'roof.yaml:2:30  site.location.climate\n  found "temprate"; allowed: one of cloudy, temperate, sunny, dry; did you mean "temperate"?',
    },
    {
      name: 'longitude alone',
      text: changed('climate: temperate', 'climate: temperate, longitude: 8'),
      message:
        'roof.yaml:2:50  site.location.longitude\n  "longitude" means something only with "utc_offset_hours"; give both or neither',
    },
    {
      name: 'an array with a key that does not exist',
      text: changed('tilt: 30, azimuth: 180', 'tilt: 30, azimut: 180'),
      message: [
        'roof.yaml:5:9  site.generation.arrays.0.azimuth',
        '  missing; needed: a number from 0 to 360 degrees',
        'roof.yaml:5:59  site.generation.arrays.0.azimut',
        '  unknown key "azimut"; did you mean "azimuth"?',
      ].join('\n'),
    },
    {
      name: 'hours that run backwards',
      text: changed('input: 2}', 'input: 2, shade: [{months: [10, 2], hours: [18, 14], beam_lost: 80%}]}'),
      message: 'roof.yaml:6:107  site.generation.arrays.1.shade.0.hours\n  from (18) must be before to (14)',
    },
    {
      name: 'a shadow on panels that are not there',
      text: changed('input: 2}', 'input: 2, shade: [{months: [1, 2], hours: [8, 9], panels: [7, 9], beam_lost: 1}]}'),
      message: 'roof.yaml:6:121  site.generation.arrays.1.shade.0.panels\n  found panel 9; the array has 8',
    },
    {
      name: 'a word for shade that is none',
      text: changed('input: 2}', 'input: 2, shade: some}'),
      message:
        'roof.yaml:6:81  site.generation.arrays.1.shade\n  found "some"; allowed: one of none, light, moderate, heavy',
    },
    {
      name: 'twelve months’ keys beside arrays',
      text: changed('    arrays:', '    includes_downtime: 1%\n    arrays:'),
      message:
        'roof.yaml:4:5  site.generation.includes_downtime\n  "includes_downtime" means nothing with "arrays"; leave it out',
    },
    {
      name: 'an inverter without rating',
      text: changed('ac_kw: 6, ', ''),
      message:
        'roof.yaml:15:9  options.0.components.0.ac_kw\n  missing; with arrays the AC rating decides what is clipped. Write in the option  inverter_kw: 5',
    },
    {
      name: 'design losses beside arrays',
      text: changed('    upfront_cost: 6900\n', '    upfront_cost: 6900\n    design_losses: {clipping: 1%}\n'),
      message:
        'roof.yaml:13:5  options.0.design_losses\n  with arrays the losses are played from the roof; leave "design_losses" out',
    },
    {
      name: 'optimisers on an array that is not there',
      text: changed('{west: 3}', '{wset: 3}'),
      message: 'roof.yaml:13:21  options.0.optimisers_on.wset\n  no array is named "wset"; the arrays are south, west',
    },
    {
      name: 'optimisers named and listed differ',
      text: changed('count: 3,', 'count: 4,'),
      message:
        'roof.yaml:13:5  options.0.optimisers_on\n  names 3 panels; the option lists 4 optimisers: one goes on each panel named',
    },
    {
      name: 'panels that do not add up',
      text: changed('site:\n', 'site:\n  panels: 21\n'),
      message: 'roof.yaml:2:3  site.panels\n  found 21; the arrays have 20 panels together',
    },
    {
      name: 'two arrays of one name',
      text: changed('name: west', 'name: south').replace('{west: 3}', '{south: 3}'),
      message:
        'roof.yaml:6:10  site.generation.arrays.1.name\n  another array is named "south" already; give each its own name',
    },
    {
      name: 'a load without its size',
      text: changed('  energy_value:', '  load: {shape: flat}\n  energy_value:'),
      message:
        'roof.yaml:7:3  site.load.annual_kwh\n  missing; needed: the use of a year in kWh, or an hourly file as shape',
    },
  ]
  test.each(cases)('$name', ({ text, message }) => {
    expect(messageOf(text)).toBe(message)
  })
})

describe('E7 hourly files', () => {
  let folder = ''
  const year = (header: string, cell: (hour: number) => string, hours = 8760): string =>
    `${header}\n${Array.from({ length: hours }, (_, hour) => cell(hour)).join('\n')}\n`
  beforeAll(() => {
    folder = mkdtempSync(join(tmpdir(), 'hourly-'))
    writeFileSync(
      join(folder, 'use.csv'),
      year('kwh', () => '0.5'),
    )
    writeFileSync(
      join(folder, 'leap.csv'),
      year('kwh', hour => (hour >= 1416 && hour < 1440 ? '9' : '1'), 8784),
    )
    writeFileSync(
      join(folder, 'short.csv'),
      year('kwh', () => '1', 8759),
    )
    writeFileSync(
      join(folder, 'words.csv'),
      year('kwh', hour => (hour === 2 ? 'none' : '1')),
    )
    writeFileSync(
      join(folder, 'column.csv'),
      year('kWh', () => '1'),
    )
    writeFileSync(
      join(folder, 'light.csv'),
      year('ghi_w_m2;air_temperature_c', hour => `${hour % 24 === 12 ? 500 : 0};8.5`),
    )
    writeFileSync(join(folder, 'empty.epw'), 'LOCATION,Somewhere,-,-,-,-,47,8,1,400\n')
  })
  afterAll(() => {
    rmSync(folder, { recursive: true })
  })
  const withLoad = (file: string): string =>
    changed('  energy_value:', `  load: {shape: {hourly_csv: ${file}}}\n  energy_value:`)

  test('a load of 8,760 hours, also where the year has a 29 February', () => {
    const load = read(withLoad('use.csv'), folder).site.load
    expect(load?.form === 'hourly' ? load.hourlyKwh.length : 0).toBe(8760)
    const leap = read(withLoad('leap.csv'), folder).site.load
    expect(leap?.form === 'hourly' ? Math.max(...leap.hourlyKwh) : 0).toBe(1)
  })

  test('light of an hourly file, columns separated by semicolons, in solar time without a clock', () => {
    const { generation } = read(changed('climate: temperate', 'hourly_csv: light.csv'), folder).site
    const sky = generation.form === 'arrays' ? generation.location.sky : null
    expect(sky?.form === 'hourly' ? [sky.weather.ghiWM2[12], sky.weather.airC?.[0], sky.weather.clock] : null).toEqual([
      500,
      8.5,
      null,
    ])
  })

  test('what cannot be read or used is reported with its line', () => {
    expect(messageOf(withLoad('gone.csv'), folder)).toBe(
      'roof.yaml:7:18  site.load.shape.hourly_csv\n  gone.csv: there is no such file; check the name',
    )
    expect(messageOf(withLoad('short.csv'), folder)).toBe(
      'short.csv\n  found 8759 rows without dates; allowed: 8760 hours, 17520 half-hours or 35040 quarter-hours, or the same with a 29 February (8784, 17568, 35136)',
    )
    expect(messageOf(withLoad('words.csv'), folder)).toBe(
      'words.csv:4\n  kwh: found "none"; allowed: a number, or nothing where none was measured',
    )
    expect(messageOf(withLoad('column.csv'), folder)).toBe('no problem')
    expect(messageOf(changed('climate: temperate', 'hourly_csv: empty.epw'), folder)).toBe(
      'empty.epw\n  found 0 hours; a year has 8,760, and 24 more with a 29 February',
    )
  })
})
