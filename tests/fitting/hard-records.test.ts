import { describe, expect, it } from 'vitest'
import { FitError } from '../../src/errors.ts'
import { fitRecords } from '../../src/fitting/fit-records.ts'
import type { FitSettings } from '../../src/fitting/fit-settings.ts'
import type { Records } from '../../src/fitting/records/read-records.ts'
import { type Life, rowsOf } from '../../src/fitting/rows.ts'
import { inventedRows } from './invented.ts'

const settings: FitSettings = {
  file: 'records.csv',
  tool: { name: 'lifetally', version: '0' },
  ageUnit: 'years',
  seed: 1,
  shape: null,
  prior: null,
  warrantyYears: null,
}

function recordsOf(groups: Readonly<Record<string, readonly Life[] | ReturnType<typeof rowsOf>>>): Records {
  return {
    groups: Object.entries(groups).map(([name, rows]) => ({
      name,
      rows: 'counts' in rows ? rows : rowsOf(rows),
      slots: null,
      nOverlapping: 0,
      nOutOfOrder: 0,
    })),
    batches: ['B-01', 'B-02'],
    nLines: 0,
    nSkipped: 0,
    skipped: [],
    nOnFirstDay: 0,
    nNames: 0,
    nSharedNames: 0,
  }
}

const failed = (age: number, count = 1): Life => ({ afterAge: age, beforeAge: age, count })
const working = (age: number, count = 1): Life => ({ afterAge: age, beforeAge: Infinity, count })

describe('records that are hard to fit', () => {
  it('none failed: refused before fitting, with the bound instead', () => {
    const call = () => fitRecords(recordsOf({ all: [working(5, 20)] }), settings)
    expect(call).toThrow(FitError)
    expect(call).toThrow(
      [
        'records.csv: none of the 20 units has failed, so no failure curve can be estimated.',
        'What the records do say, with 90 % confidence:',
        '  with shape 1, the characteristic life is over 43.4 years',
        '  with shape 2, the characteristic life is over 14.7 years',
        '  with shape 3, the characteristic life is over 10.3 years',
        'Wait for failures, or give what is believed beforehand with --prior-shape and --prior-life.',
      ].join('\n'),
    )
  })

  it('none failed in one group: the other is fitted, this one gets the bound', () => {
    const result = fitRecords(
      recordsOf({ a: [working(5, 20)], b: [failed(3), failed(5), failed(6), working(8, 9)] }),
      settings,
    )
    expect(result.groups.map(group => group.best)).toEqual([null, 'weibull'])
    expect(result.groups[0]?.lifeBounds[1]).toEqual({
      shape: 2,
      confidence: 0.9,
      characteristicLife: expect.closeTo(Math.sqrt((20 * 25) / -Math.log(0.1)), 10),
    })
    expect(result.tests).toEqual([])
  })

  it('one failure among working units: fitted, and said to be one failure', () => {
    const result = fitRecords(recordsOf({ all: [failed(4), working(8, 30)] }), settings)
    expect(result.groups[0]?.best).toBe('weibull')
    expect(result.warnings.map(warning => warning.code)).toContain('few-failures')
    expect(result.warnings.find(warning => warning.code === 'few-failures')?.text).toBe(
      'The shape is based on 1 failure. Trust the ranges, not the single figures, or give a shape with --shape.',
    )
  })

  it('one failure, that of the oldest unit: refused with what to do', () => {
    const call = () => fitRecords(recordsOf({ all: [failed(8), working(4, 30)] }), settings)
    expect(call).toThrow(
      'The only failure is that of the oldest unit, so the shape cannot be estimated; give a shape with --shape.',
    )
    const told = fitRecords(recordsOf({ all: [failed(8), working(4, 30)] }), { ...settings, shape: 2 })
    expect(told.groups[0]?.models[0]?.parameters.characteristicLife?.estimate).toBeCloseTo(Math.sqrt(64 + 30 * 16), 8)
  })

  it('all failures at one age and none working beyond: refused', () => {
    expect(() => fitRecords(recordsOf({ all: [failed(5, 7)] }), settings)).toThrow(
      'All failures came at one age, so no curve can be estimated; check whether ages were rounded or copied.',
    )
  })

  it('all failed: fitted', () => {
    const result = fitRecords(recordsOf({ all: [2, 3, 4, 5, 6, 7].map(age => failed(age)) }), settings)
    expect(result.groups[0]).toMatchObject({ units: 6, failed: 6, best: 'weibull' })
    expect(result.groups[0]?.survival.at(-1)?.estimate).toBe(0)
  })

  it('ties and counts: the same as one row for each unit', () => {
    const together = fitRecords(recordsOf({ all: [failed(3, 4), failed(6, 5), working(8, 20)] }), settings)
    const apart = fitRecords(
      recordsOf({
        all: [
          ...Array.from({ length: 4 }, () => failed(3)),
          ...Array.from({ length: 20 }, () => working(8)),
          ...Array.from({ length: 5 }, () => failed(6)),
        ],
      }),
      settings,
    )
    expect(together.groups[0]?.models).toEqual(apart.groups[0]?.models)
    expect(together.groups[0]?.survival).toEqual(apart.groups[0]?.survival)
  })

  it('999 of 1,000 units still working: the interval is wide and contains the truth', () => {
    const rows = inventedRows(3, 3000, [{ shape: 2, life: 100 }], [1, 6])
    const result = fitRecords(recordsOf({ all: rows }), settings)
    const life = result.groups[0]?.models[0]?.parameters.characteristicLife
    expect(result.groups[0]?.failed).toBeLessThan(12)
    expect(life?.profile95?.[0]).toBeLessThan(100)
    expect(life?.profile95?.[1] ?? Infinity).toBeGreaterThan(100)
    expect((life?.profile95?.[1] ?? Infinity) / (life?.profile95?.[0] ?? 1)).toBeGreaterThan(5)
  })

  it('ages of an impossible size: the unit of age is questioned', () => {
    const result = fitRecords(recordsOf({ all: [failed(900), failed(1500), working(2000, 9)] }), settings)
    expect(result.warnings.find(warning => warning.code === 'age-unit')?.text).toBe(
      'The oldest unit would be 2000 years old. Check whether --age-unit years is right.',
    )
  })

  it('all failures inside the warranty while units were watched beyond: warned', () => {
    const result = fitRecords(recordsOf({ all: [failed(2), failed(3), failed(4), working(10, 30)] }), {
      ...settings,
      warrantyYears: 5,
    })
    expect(result.warnings.find(warning => warning.code === 'inside-warranty')?.text).toBe(
      'All 3 failures came inside the warranty of 5 years, although 49 % of the watched time lies after it. Failures outside the warranty may not have been reported; the curve then shows old units as better than they are.',
    )
  })

  it('a batch that fails more: named with what was expected', () => {
    const good = inventedRows(21, 400, [{ shape: 1.5, life: 40 }], [2, 10], () => 0)
    const bad = inventedRows(22, 40, [{ shape: 1.5, life: 8 }], [2, 10], () => 1)
    const all = {
      startAges: Float64Array.from([...good.startAges, ...bad.startAges]),
      afterAges: Float64Array.from([...good.afterAges, ...bad.afterAges]),
      beforeAges: Float64Array.from([...good.beforeAges, ...bad.beforeAges]),
      counts: Float64Array.from([...good.counts, ...bad.counts]),
      batches: Int32Array.from([...good.batches, ...bad.batches]),
      months: Int32Array.from([...good.months, ...bad.months]),
    }
    const result = fitRecords(recordsOf({ all }), settings)
    expect(result.groups[0]?.clusters).toHaveLength(1)
    expect(result.groups[0]?.clusters[0]).toMatchObject({ kind: 'batch', name: 'B-02' })
    expect(result.warnings.map(warning => warning.code)).toContain('batch-stands-out')
    const alike = inventedRows(23, 400, [{ shape: 1.5, life: 40 }], [2, 10], unit => unit % 2)
    expect(fitRecords(recordsOf({ all: alike }), settings).groups[0]?.clusters).toEqual([])
  })

  it('a prior makes up for failures that are missing', () => {
    const result = fitRecords(recordsOf({ all: [working(5, 20)] }), {
      ...settings,
      prior: { shape: [2, 4], life: [12, 30] },
    })
    const [shape, life] = ['shape', 'characteristicLife'].map(
      key => result.groups[0]?.models[0]?.parameters[key]?.estimate,
    )
    expect(shape).toBeGreaterThan(2)
    expect(shape).toBeLessThan(4)
    // Twenty units that lived five years are evidence for a longer life, never for a shorter one.
    expect(life).toBeGreaterThan(Math.sqrt(12 * 30))
  })

  it('a curve that no real unit has is passed over for a plainer one, so that the ranges for a scenario stay finite', () => {
    // Lives of the joint draws used to be infinite here: the richest curve has a shape of 29 and its range no end.
    const lives = [
      ...[working(17), working(6.135, 300_000), working(19, 3), working(1), working(8.99)],
      ...[failed(1, 300_000), working(12, 300_000)],
    ]
    const [group] = fitRecords(recordsOf({ all: lives }), settings).groups
    expect(group?.models.map(model => model.name)).toContain('weibull+early')
    expect(group?.best).toBe('weibull')
    expect(group?.draws?.values.flat(2).every(value => value > 0 && Number.isFinite(value))).toBe(true)
  })

  it('records that only curves of no real unit fit are refused with a message', () => {
    // With the first the number of joint draws used to be no number; of the second 301 failures were called too few.
    const flat = Array.from({ length: 16 }, (_, power) => failed(10 ** (power - 6), 1000))
    const far = [failed(1e-6, 300), failed(2e3), working(1e8, 900)]
    for (const lives of [flat, far])
      expect(() => fitRecords(recordsOf({ all: lives }), settings)).toThrow(
        'The records fit only curves that no real unit has; check whether all ages are in one unit.',
      )
  })

  it('many failures of one age among few others are fitted in seconds, not minutes', () => {
    // The search for the bounds of the mean life used to stray to shapes of 100,000, with a step for each.
    const lives = [
      ...[working(18.535, 1000), working(6, 1000), working(20, 3), working(1.265, 3), failed(4), failed(1, 3)],
      ...[failed(0.795, 1000), working(14, 300_000), working(9.655)],
    ]
    const start = process.cpuUsage()
    expect(fitRecords(recordsOf({ all: lives }), settings).groups[0]?.failed).toBe(1004)
    expect(process.cpuUsage(start).user / 1e6).toBeLessThan(5)
  })
})
