import { describe, expect, test } from 'vitest'
import { type Block, failsAt, first, option, playOptions, put, single, unit, weibull, world } from '../worlds.ts'

const played = (over: Block, optionOver: Block = {}, worldOver: Block = {}, draws = 20) =>
  playOptions(world([single(over, optionOver)], { horizon_years: 18, ...worldOver }), { draws })
/** Failures at 4, 8, 12, 16. */
const FOUR = { failure: failsAt(4), warranty: { replacement_cover: 'remaining' } }

describe('V1, V2: the term of the warranty', () => {
  test('V1: the sweep runs from 0 to the horizon in whole years over the same histories', async () => {
    const sweep = first((await played(FOUR)).warrantySweep)
    expect(sweep.years).toEqual(Array.from({ length: 19 }, (_, year) => year))
    // each failure covered takes the parts of 1000 off
    const paid = (covered: number) => 4 * 1300 - 1000 * covered
    for (const [term, covered] of [
      [0, 0],
      [3, 0],
      [5, 1],
      [7, 1],
      [9, 2],
      [13, 3],
      [17, 4],
      [18, 4],
    ] as const) {
      expect(sweep.outOfPocketMean[term]).toBeCloseTo(paid(covered), 8)
      expect(sweep.worth[term]).toBeCloseTo(1000 * covered, 8)
    }
  })

  test('V1: labour years stay but end with the term', async () => {
    const labour = put(FOUR, { warranty: { years: 5, labour_years: 9 } })
    const sweep = first((await played(labour)).warrantySweep)
    // term 5: one failure free of parts and labour; term 9: two; beyond, labour cover has ended
    expect([5, 9, 13].map(term => Math.round(sweep.outOfPocketMean[term] ?? 0))).toEqual([
      5200 - 1200,
      5200 - 2400,
      5200 - 3400,
    ])
  })

  test('V2: worth is the fall in what is paid less the rise in energy lost to claims', async () => {
    const slow = put(FOUR, { downtime: { claim_days: 30 } })
    const sweep = first((await played(slow)).warrantySweep)
    expect(sweep.energyLostToClaims[5]).toBeCloseTo(30, 8)
    expect(sweep.worth[5]).toBeCloseTo(1000 - 30, 8)
    expect((sweep.worth[9] ?? 0) - (sweep.worth[5] ?? 0)).toBeCloseTo(1000 - 30, 8)
  })

  test('V3: with providers that may stop a term is worth less than with providers that stay', async () => {
    const one = { failure: weibull(2, 9), warranty: { years: 10, replacement_cover: 'renewed' } }
    const sweep = first((await played(one, { warranty_provider: { exit_rate_per_year: 0.05 } }, {}, 400)).warrantySweep)
    for (const term of [5, 10, 18]) {
      expect(sweep.outOfPocketIfProviderStays[term]).toBeLessThan(sweep.outOfPocketMean[term] ?? 0)
    }
    expect(sweep.outOfPocketIfProviderStays[0]).toBeCloseTo(sweep.outOfPocketMean[0] ?? 0, 9)
  })

  test('V3: if providers stay, a term pays what those that are gone would have paid', async () => {
    const gone = { warranty_provider: { exit_rate_per_year: 0.99 }, labour_provider: { exit_rate_per_year: 0.99 } }
    const once = { failure: failsAt(8), warranty: { years: 10, labour_years: 10 } }
    const sweep = first((await played(once, gone, { horizon_years: 12 }, 100)).warrantySweep)
    expect(sweep.outOfPocketMean[9]).toBeGreaterThan(1200)
    expect([7, 9].map(term => Math.round(sweep.outOfPocketIfProviderStays[term] ?? 0))).toEqual([1300, 100])
  })

  test('V3: if providers stay, they pay for the other components too', async () => {
    const ten = { warranty: { years: 10 } }
    const parts = [
      unit('string-inverter', { failure: failsAt(8), ...ten }),
      unit('gateway', { failure: failsAt(6), needs_visit: true, ...ten }),
    ]
    const one = option('Two', 'string', parts, { warranty_provider: { exit_rate_per_year: 0.99 } })
    const sweep = first((await playOptions(world([one], { horizon_years: 10 }), { draws: 100 })).warrantySweep)
    expect([7, 9].map(term => Math.round(sweep.outOfPocketIfProviderStays[term] ?? 0))).toEqual([1600, 600])
  })

  test('V3: paper is the share of the parts bill the terms promise, effective that of the whole bill not paid', async () => {
    const one = put(FOUR, { failure: failsAt(4.5), warranty: { years: 5, parts: 0.8, claim_success: 1 } })
    const { coverByYear } = first((await played(one)).options)
    expect(coverByYear.paper[4]).toBeCloseTo(0.8, 12)
    expect(coverByYear.effective[4]).toBeCloseTo(800 / 1300, 12)
    expect(coverByYear.paper[3]).toBeNull()
    const late = coverByYear.paper.findLastIndex(share => share !== null)
    expect([coverByYear.paper[late], coverByYear.effective[late]]).toEqual([0, 0])
    const refused = put(one, { warranty: { claim_success: 0 } })
    const { coverByYear: none } = first((await played(refused)).options)
    expect([none.paper[4], none.effective[4]]).toEqual([expect.closeTo(0.8, 12), 0])
  })
})

describe('W6: offers', () => {
  const offered = (offer: Block) => ({ warranty_offers: [{ years: 9, ...offer }] })

  test('an offer is priced separately from the option; its worth is against the present terms', async () => {
    const results = await played(put(FOUR, { warranty: { years: 5 } }), offered({ price: 700 }))
    const offer = first(first(results.warrantySweep).offers)
    expect(offer.worth).toBeCloseTo(1000, 8)
    expect(offer.verdict).toBe('worth its price')
    expect(offer.labourYears).toBe(0)
    expect(first(results.options).costs.warranty).toBe(0)
    const dear = await played(put(FOUR, { warranty: { years: 5 } }), offered({ price: 1200 }))
    expect(first(first(dear.warrantySweep).offers).verdict).toBe('not worth its price')
  })

  test('taken, it is in the option: its price at the start, its terms in place of the present ones', async () => {
    const results = await played(
      put(FOUR, { warranty: { years: 5, labour_years: 5 } }),
      offered({ price: 700, labour_years: 9, taken: true }),
    )
    const { costs } = first(results.options)
    expect(costs.warranty).toBe(700)
    expect(costs.parts).toBeCloseTo(2000, 8)
    expect(costs.labour).toBeCloseTo(400, 8)
    // worth against the present terms, though they are not in force
    expect(first(first(results.warrantySweep).offers).worth).toBeCloseTo(1200, 8)
  })

  test('too close to call under two standard errors', async () => {
    const one = { failure: weibull(2, 9), warranty: { years: 3 } }
    const once = first(first((await played(one, offered({ price: 1 }), {}, 400)).warrantySweep).offers)
    const twice = await played(one, offered({ price: once.worth + 1.5 * once.standardError }), {}, 400)
    expect(first(first(twice.warrantySweep).offers).verdict).toBe('too close to call')
  })
})
