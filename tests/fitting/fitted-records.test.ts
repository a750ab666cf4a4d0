import { describe, expect, it } from 'vitest'
import { parse } from 'yaml'
import { failureYaml } from '../../src/fitting/failure-block.ts'
import { fitRecords } from '../../src/fitting/fit-records.ts'
import type { FitSettings } from '../../src/fitting/fit-settings.ts'
import type { Records } from '../../src/fitting/records/read-records.ts'
import { readFittedRecords, splitRecords } from '../../src/scenario/files/fitted-records.ts'
import { inventedRows } from './invented.ts'

const settings: FitSettings = {
  file: 'records.csv',
  tool: { name: 'lifetally', version: '0' },
  ageUnit: 'months',
  seed: 1,
  shape: null,
  prior: null,
  warrantyYears: null,
}

function recordsOf(...names: readonly string[]): Records {
  return {
    groups: names.map((name, i) => ({
      name,
      rows: inventedRows(40 + i, 300, [{ shape: 2, life: 140 }], [24, 120]),
      slots: null,
      nOverlapping: 0,
      nOutOfOrder: 0,
    })),
    batches: [],
    nLines: 300 * names.length,
    nSkipped: 0,
    skipped: [],
    nOnFirstDay: 0,
    nNames: 0,
    nSharedNames: 0,
  }
}

describe('a fit taken into a scenario', () => {
  const one = fitRecords(recordsOf('all'), settings)

  it('the estimate comes first, in years, then 200 sets in rising order of mean life', () => {
    const { draws, said } = readFittedRecords(JSON.stringify(one), 'fit.json')
    const group = one.groups[0]!
    expect(said).toBe(`your records: ${group.failed} failures among 300 units`)
    expect(draws).toHaveLength(201)
    const mode = group.models[0]!.modes[0]!
    expect(draws[0]).toEqual([
      { cause: 'as recorded', susceptible: 1, shape: mode.shape, lifeYears: mode.characteristicLife / 12 },
    ])
    expect(draws[1]![0]!.lifeYears).toBeLessThan(draws[200]![0]!.lifeYears)
  })

  it('shape and life are drawn together: steep curves have short lives when most units still work', () => {
    const { draws } = readFittedRecords(JSON.stringify(one), 'fit.json')
    const logs = draws.slice(1).map(modes => [Math.log(modes[0]!.shape), Math.log(modes[0]!.lifeYears)] as const)
    const mean = [0, 1].map(k => logs.reduce((sum, pair) => sum + pair[k]!, 0) / logs.length)
    const moment = (a: number, b: number) =>
      logs.reduce((sum, pair) => sum + (pair[a]! - mean[a]!) * (pair[b]! - mean[b]!), 0)
    expect(moment(0, 1) / Math.sqrt(moment(0, 0) * moment(1, 1))).toBeLessThan(-0.5)
  })

  it('the block names the file, and with several groups the group after #', () => {
    expect(parse(failureYaml(one, 'fit.json'))).toEqual({ failure: { records: 'fit.json' } })
    const two = fitRecords(recordsOf('m: 1', 'm2'), settings)
    expect(parse(failureYaml(two, 'out/fit.json'))).toEqual({
      'm: 1': { failure: { records: 'out/fit.json#m: 1' } },
      m2: { failure: { records: 'out/fit.json#m2' } },
    })
    expect(splitRecords('out/fit.json#m: 1')).toEqual({ file: 'out/fit.json', group: 'm: 1' })
    expect(splitRecords('fit.json')).toEqual({ file: 'fit.json', group: null })
    const text = JSON.stringify(two)
    expect(readFittedRecords(text, 'fit.json', 'm2').said).toContain('among 300 units')
    expect(() => readFittedRecords(text, 'fit.json')).toThrow(
      'fit.json\n  the file holds 2 fitted groups (m: 1, m2); name one, e.g. records: "fit.json#m: 1"',
    )
    expect(() => readFittedRecords(text, 'fit.json', 'm3')).toThrow(
      'fit.json\n  the file has no group "m3"; it has m: 1, m2',
    )
  })

  it('a file that is no fit is refused', () => {
    expect(() => readFittedRecords('x', 'fit.json')).toThrow(
      'fit.json\n  the file is not JSON; name the fit.json that `lifetally fit` wrote',
    )
    expect(() => readFittedRecords('{"ageUnit":"weeks","groups":[]}', 'fit.json')).toThrow(
      'fit.json\n  the file is no result of `lifetally fit` (ageUnit: found "weeks"; allowed: one of hours, days, months, years); make it anew',
    )
  })
})
