import { copyFileSync, existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, describe, expect, test } from 'vitest'
import { halfHours } from '../scenario/quotes/half-hours.ts'
import { run } from './run.ts'

const folder = mkdtempSync(join(tmpdir(), 'lifetally-quotes-'))
afterAll(() => rmSync(folder, { recursive: true, force: true }))

const QUOTES: readonly (readonly [file: string, taken: readonly (readonly [written: string, as: string])[]])[] = [
  [
    'north-dollars',
    [
      ['generation / arrays / 0 / azimuth: south-west', 'azimuth: 225, degrees clockwise from north'],
      ['generation / arrays / 1 / azimuth: SE', 'azimuth: 135, degrees clockwise from north'],
      ['Sunrise roofing / inverter_kw: 7.6', 'ac_kw: 7.6 of the string-inverter'],
      ["Neighbour's firm / topology: micro-inverters", 'topology: panel-level'],
      ['Big van / topology: power optimizers', 'topology: string-optimisers'],
      ['Big van / warranty: 12-year', 'warranty: {years: 12} of the string-inverter, cover of parts'],
    ],
  ],
  [
    'south-dollars-battery',
    [
      ['generation / arrays / 0 / azimuth: north', 'azimuth: 0, degrees clockwise from north'],
      ['Panels only / topology: string inverter', 'topology: string'],
      ['With battery / topology: hybrid inverter', 'topology: hybrid'],
      ['With battery / battery_kwh: 10', 'battery: {kwh: 10}'],
      ['Small inverters / warranty: 25', 'warranty: {years: 25} of the panel-level-unit, cover of parts'],
    ],
  ],
  [
    'north-euros-half-hours',
    [
      ['start: 2027', 'start: 2027-01, January'],
      ['generation / arrays / 0 / azimuth: south-facing', 'azimuth: 180, degrees clockwise from north'],
      ['A / tier: robust', 'tier: robust of the string-inverter'],
      ['C / topology: some optimisers', 'topology: string-some-optimisers'],
      ['C / optimisers: 6', 'count: 6 of the optimiser'],
    ],
  ],
]

describe('three quotes as a person types them', () => {
  writeFileSync(join(folder, 'half-hours.csv'), halfHours())

  test.each(QUOTES)('%s runs at first try, is short, and check shows how each word was taken', (name, taken) => {
    const file = join(folder, `${name}.yaml`)
    copyFileSync(`tests/scenario/quotes/${name}.yaml`, file)

    const played = run(['estimate', file, '--draws', '40'])
    expect([played.code, played.error]).toEqual([0, expect.not.stringContaining('.yaml:')])
    expect(existsSync(join(folder, name, 'report.html'))).toBe(true)

    const checked = run(['check', file])
    expect(checked.code).toBe(0)
    expect(checked.out).toContain('Nothing is wrong. 3 options')
    const lines = checked.out.split('\n').map(line => line.trim().split(/ {2,}/))
    for (const words of taken) expect(lines).toContainEqual(words)
    // 365 days of 38 × 0.15 and 10 × 0.5 kWh
    if (name === 'north-euros-half-hours') expect(checked.out).toMatch(/site\.load\.annual_kwh +3,905\.5 kWh/)

    const [site = '', quotes = ''] = readFileSync(file, 'utf8').split('\noptions:\n')
    expect(site.split('\n').length).toBeLessThanOrEqual(12)
    const each = quotes.trimEnd().split(/\n(?= {2}- )/)
    expect(each).toHaveLength(3)
    for (const quote of each) expect(quote.split('\n').length).toBeLessThanOrEqual(4)
  })
})
