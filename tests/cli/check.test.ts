import { describe, expect, test } from 'vitest'
import { PLAIN } from '../scenario/plain-scenario.ts'
import { run, runAll } from './run.ts'

describe('lifetally check', () => {
  test('explains each value: range, unit, where from; what is not known; notes', () => {
    const { code, out, error } = run(['check', '-'], PLAIN)
    expect({ code, error }).toEqual({ code: 0, error: '' })
    const lines = out.split('\n')
    expect(lines[0]).toBe('Plain')
    expect(lines[1]).toMatch(
      /^Nothing is wrong\. 2 options, \d+ values \(\d+ yours, \d+ published, \d+ derived, \d+ judgement\), \d+ unknowns\.$/,
    )
    expect(out).toMatch(/^ {2}site\.energy_value\.import_price_per_kwh +EUR 0\.3 per kWh +yours$/m)
    expect(out).toMatch(/^A\. String$/m)
    expect(out).toMatch(
      /^ {2}string-inverter \/ failure\.anchor\.share +34\.3 % +25 to 45 % +published: Bucher, Wandel, Joss \(2022\)/m,
    )
    expect(out).toMatch(
      /^ {2}string-inverter \/ failure\.wear_out\.shape +3\.5 +2\.5 to 4\.5 +judgement of this project; /m,
    )
    expect(out).toMatch(/^ {2}chance that the installer stops \(evidence\) +5 to 12 % per year$/m)
    expect(out).toContain('\nNotes\n  - ')
  })

  test('--json gives the same values', () => {
    const { code, out } = run(['check', '--json', 'examples/home-four-topologies.yaml'])
    expect(code).toBe(0)
    const result = JSON.parse(out)
    expect(result.title).toBe('Mill Lane 14, 6.6 kW, four quotes')
    expect(result.values.find((value: { key: string }) => value.key === 'discount_rate')).toEqual({
      key: 'discount_rate',
      value: 0.03,
      unit: 'share per year',
      low: null,
      high: null,
      source: 'your scenario',
      known: 'yours',
      weakest: null,
    })
  })

  test('a bad scenario: all problems on standard error, nothing on standard output, exit 1', () => {
    const { code, out, error } = run(
      ['check', '-'],
      PLAIN.replace('warranty:', 'waranty:').replace('count: 20', 'count: 0'),
    )
    expect({ code, out }).toEqual({ code: 1, out: '' })
    expect(error).toBe(
      '-:15:9  options.0.components.0.waranty\n  unknown key "waranty"; did you mean "warranty"?\n' +
        '-:21:9  options.1.components.0.count\n  found 0; allowed: a whole number from 1 to 100,000 units\n',
    )
  })

  test('a missing file, a folder: exit 1 with a message', async () => {
    expect(
      await runAll([
        ['check', 'none.yaml'],
        ['check', 'src'],
      ]),
    ).toEqual([
      { code: 1, out: '', error: 'none.yaml\n  there is no such file; check the name\n' },
      { code: 1, out: '', error: 'src\n  this is a folder; name a file in it\n' },
    ])
  })
})
