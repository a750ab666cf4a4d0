import { describe, expect, test } from 'vitest'
import { failsAt, first, option, play, single, unit, world } from '../worlds.ts'

/** Fails at 4.6, 9.2, 13.8 and 18.4; parts 1,000, labour 200, call-out 100. */
const inFourYears = { failure: failsAt(4.6) }
const REPAIR = { repair: { renews: 1, parts: 300, labour: 80 } }

async function played(...args: Parameters<typeof single>) {
  return first((await play(world([single(...args)]))).options)
}

/** The years that hold something other than 0, with what they hold. */
function filled(years: readonly (number | null)[]): [number, number | null][] {
  return years.flatMap((value, year): [number, number | null][] =>
    value === 0 || value === null ? [] : [[year, Math.round(value * 1e3) / 1e3]],
  )
}

describe('money and cover by year, in a world without chance', () => {
  test('R1: a repair and its visit are paid in the year of the return', async () => {
    const { cashByYear } = await played(inFourYears)
    expect(filled(cashByYear.mean)).toEqual([
      [4, 1300],
      [9, 1300],
      [13, 1300],
      [18, 1300],
    ])
  })

  test('R1, O6: what is paid within the last year counts in it, what returns after the horizon nowhere', async () => {
    const { cashByYear } = await played({ failure: failsAt(19.9) })
    expect(filled(cashByYear.mean)).toEqual([[19, 1300]])
    expect(filled((await played({ failure: failsAt(20.1) })).cashByYear.mean)).toEqual([])
  })

  test('W4: all that the cover pays over a lifetime is added up: parts, labour and visits', async () => {
    const { costs, paidByCover } = await played({
      ...inFourYears,
      warranty: { years: 20, labour_years: 20, visits_covered: true, replacement_cover: 'renewed' },
    })
    expect([costs.parts, costs.labour, costs.visits]).toEqual([0, 0, 0])
    expect(paidByCover?.parts).toBeCloseTo(4000, 9)
    expect(paidByCover?.labour).toBeCloseTo(800, 9)
    expect(paidByCover?.visits).toBeCloseTo(400, 9)
  })

  test('V3: paper is the promised share of parts, effective the share of the whole bill', async () => {
    const { coverByYear } = await played({
      ...inFourYears,
      warranty: { years: 6, labour_years: 0, parts: 0.8, replacement_cover: 'remaining' },
    })
    expect(filled(coverByYear.paper)).toEqual([[4, 0.8]])
    expect(filled(coverByYear.effective)).toEqual([[4, 0.615]])
  })

  test('V3: where labour and visit are covered too, effective is the whole bill', async () => {
    const { coverByYear } = await played({
      ...inFourYears,
      warranty: { years: 6, labour_years: 6, visits_covered: true, replacement_cover: 'remaining' },
    })
    expect(filled(coverByYear.effective)).toEqual([[4, 1]])
  })

  test('V3: of a visit that repairs two units each bears half, growth of labour included', async () => {
    const pair = unit('panel-level-unit', { ...inFourYears, count: 2, warranty: { years: 6, parts: 0.8 } })
    const one = option('Pair', 'panel-level', [pair], { visit_policy: { wait_for_units: 2, wait_at_most_days: 100 } })
    const blocks = world([one], { horizon_years: 8, visit: { labour_growth: 0.1 } })
    const { coverByYear } = first((await play(blocks)).options)
    // parts 1,000; half of labour 200 + 50 and half of the call-out of 100, grown for 4.6 years
    expect(coverByYear.effective[4]).toBeCloseTo(800 / (1000 + 175 * 1.1 ** 4.6), 4)
  })

  test('V3: each component has its own cover; that of all together is of their bills', async () => {
    const inverter = unit('string-inverter', { ...inFourYears, warranty: { years: 6, parts: 0.8 } })
    const battery = unit('battery', { ...inFourYears, replacement: { parts: 3000, labour: 0 } })
    const blocks = world([option('Two', 'string', [inverter, battery])])
    const { coverByYear, coverInAll, coverByComponent } = first((await play(blocks)).options)
    expect(coverByComponent.map(({ component, years }) => [component, years])).toEqual([
      ['string-inverter', 6],
      ['battery', 0],
    ])
    expect(coverByComponent[0]?.paper).toEqual(coverByYear.paper)
    expect(coverByComponent[0]?.firstYears.paper).toBeCloseTo(0.4, 9)
    expect(coverByComponent[1]?.firstYears).toEqual({ years: 10, paper: 0, effective: 0 })
    // failures at 4.6 and 9.2 years, the second without cover: 0.8 of 1,000 promised of twice 1,000 and 3,000
    expect(coverInAll.firstYears.paper).toBeCloseTo(800 / 8000, 9)
    // labour of 200 of the inverter, a call-out of 100 each, none of them covered
    expect(coverInAll.firstYears.effective).toBeCloseTo(800 / (2 * (1000 + 200 + 100 + 3000 + 100)), 9)
    expect(coverInAll.effective[4]).toBeCloseTo(800 / 4400, 9)
  })

  test('V2: the cover of a component after the first is worth what it saves, less the energy lost to claims', async () => {
    const battery = unit('battery', {
      ...inFourYears,
      replacement: { parts: 3000, labour: 0 },
      warranty: { years: 6, replacement_cover: 'remaining' },
    })
    const blocks = world([option('Two', 'string', [unit('string-inverter'), battery])])
    const { warrantySweep } = await play(blocks)
    const [other] = warrantySweep[0]?.otherComponents ?? []
    expect(other).toMatchObject({ component: 'battery', years: 6, draws: 20 })
    expect(other?.worth).toBeCloseTo(3000, 6)
  })

  test('V3: without a provider paper stays as it was and effective is 0', async () => {
    const blocks = world([
      single(
        { ...inFourYears, warranty: { years: 6, replacement_cover: 'remaining' } },
        { warranty_provider: { exit_rate_per_year: 0.99 } },
      ),
    ])
    const { coverByYear } = first((await play(blocks, { draws: 200 })).options)
    expect(filled(coverByYear.paper)).toEqual([[4, 1]])
    // one in 95 is still there: 0.8 % of the bill; 4.5 standard errors of 200 draws are 2.5 %
    expect(coverByYear.effective[4]).toBeLessThan(0.033)
  })

  test('V3: only the first component counts', async () => {
    const parts = [unit('string-inverter'), unit('battery', inFourYears)]
    const { coverByYear } = first((await play(world([option('One', 'string', parts)]))).options)
    expect(coverByYear.paper.every(value => value === null)).toBe(true)
  })

  test('M3: a repaired unit keeps its cover on both clocks', async () => {
    const repaired = {
      ...inFourYears,
      restore: REPAIR,
      warranty: { years: 10, labour_years: 10, replacement_cover: 'remaining' },
    }
    const { cashByYear } = await played(repaired)
    expect(filled(cashByYear.mean)).toEqual([
      [4, 100],
      [9, 100],
      [13, 480],
      [18, 480],
    ])
  })

  test.each(['renewed', 'new-if-bought'])('M3: under %s a repaired unit gets no new term', async cover => {
    const { cashByYear } = await played({
      ...inFourYears,
      restore: REPAIR,
      warranty: { years: 6, labour_years: 6, replacement_cover: cover },
    })
    // only the first failure lies within the original term
    expect(filled(cashByYear.mean)).toEqual([
      [4, 100],
      [9, 480],
      [13, 480],
      [18, 480],
    ])
  })

  test('M8: a repair pays no surcharge, the first replacement after the end of production pays it once', async () => {
    const gone = { ...inFourYears, successor: { surcharge: 500, chance: { 1: 1 } } }
    expect((await played({ ...gone, restore: REPAIR })).surcharges).toBe(0)
    expect((await played(gone)).surcharges).toBeCloseTo(500, 6)
  })

  test('W4: roof access of one option is not carried over to another', async () => {
    const roof = single({ ...inFourYears, on_roof: true }, {}, 'Roof')
    const { options } = await play(world([roof, single(inFourYears, {}, 'Wall'), { ...roof, name: 'Roof again' }]))
    expect(options.map(({ costs }) => Math.round(costs.visits))).toEqual([520, 400, 520])
  })

  test('W4: labour of nothing for the first unit stays nothing, whatever a further unit costs', async () => {
    const { costs } = await played({ ...inFourYears, replacement: { labour: 0, labour_each_further: 50 } })
    expect(costs.labour).toBe(0)
  })

  test('W3, W4, V1: twelve hundred failures in one lifetime are claimed and paid as a single one is', async () => {
    const many = unit('panel-level-unit', {
      count: 600,
      failure: failsAt(8.2),
      warranty: { years: 10, labour_years: 20 },
    })
    const { options, warrantySweep } = await play(world([option('Many', 'panel-level', [many])]))
    const { costs, coverByYear } = first(options)
    // the first of each slot is covered and hands on both ends; of the second, at 16.4, only labour is covered
    expect([costs.parts, costs.labour, costs.visits].map(Math.round)).toEqual([600_000, 0, 120_000])
    expect(filled(coverByYear.paper)).toEqual([[8, 1]])
    expect(coverByYear.paper[16]).toBe(0)
    // V1: without cover all is paid, with a term of 20 years only the visits
    const { outOfPocketMean } = first(warrantySweep)
    expect([0, 20].map(term => Math.round(outOfPocketMean[term] ?? 0))).toEqual([1_560_000, 120_000])
  })
})
