import { describe, expect, test } from 'vitest'
import type { Comparison } from '../../src/analysis/results/comparison.ts'
import { ParameterSets } from '../../src/simulation/parameter-sets.ts'
import { planOf, prepare } from '../../src/simulation/run.ts'
import { type Block, first, option, playOptions, put, read, unit, world } from '../worlds.ts'

/** A string inverter whose failure comes from the evidence of its tier; all else is given and equal. */
const tiered = (tier: string, upfront_cost: number, over: Block = {}): Block => {
  const { failure: _, ...told } = unit(
    'string-inverter',
    put({ tier, warranty: { replacement_cover: 'remaining' } }, over),
  )
  return option(tier, 'string', [told], { upfront_cost })
}
const THREE = [tiered('budget', 4500), tiered('plain', 5000), tiered('robust', 6000)]
const modesIn = (blocks: Block, sets: number) => {
  const scenario = read(blocks)
  const plans = scenario.options.map((_, place) => planOf(prepare(scenario, 1), place))
  return new ParameterSets(scenario, 1, 'random')
    .ofBlock(0, 50)
    .slice(0, sets)
    .map(set => plans.map(plan => first(plan.at(set).parameters.units).modes))
}

describe('U1b: what is filled from evidence', () => {
  test('U1b: is one unknown for every option that takes it: in each set the shapes are the same', () => {
    const { unknowns } = read(world(THREE))
    const labels = unknowns.map(({ label }) => label)
    expect(new Set(labels).size).toBe(labels.length)
    expect(unknowns.filter(({ kind }) => kind === 'multiplier')).toHaveLength(3)
    for (const modes of modesIn(world(THREE), 50)) {
      const shapes = modes.map(all => all.find(({ cause }) => cause === 'wear-out')?.shape)
      expect(shapes[0]).toBeGreaterThan(0)
      expect([shapes[1], shapes[2]]).toEqual([shapes[0], shapes[0]])
    }
  })

  test('U1b: a range written in the scenario is its own', () => {
    const own = world(
      [...THREE, tiered('plain', 5000, { replacement: { parts: { low: 800, high: 1200 } } })].map((one, i) =>
        put(one, { name: `O${i}` }),
      ),
    )
    const added = read(own).unknowns.filter(({ kind }) => kind === 'normal').length
    expect(added).toBe(read(world(THREE)).unknowns.filter(({ kind }) => kind === 'normal').length + 1)
  })
})

describe('U1c: tier effect', () => {
  test('U1c: 0 gives budget, plain and robust the same lives in every set; 1 and 2 do not', () => {
    for (const spread of [{}, { failure: { model_spread: 0 } }]) {
      const options = THREE.map(one => put(one, { components: [put(first(componentsOf(one)), spread)] }))
      for (const [budget, plain, robust] of modesIn(world(options, { tier_effect: 0 }), 20)) {
        budget?.forEach((mode, i) => {
          for (const other of [plain?.[i], robust?.[i]]) {
            expect(other?.lifeYears).toBeCloseTo(mode.lifeYears, 9)
            expect(other?.susceptible).toBeCloseTo(mode.susceptible, 9)
            expect(other?.shape).toBe(mode.shape)
          }
        })
      }
      for (const tier_effect of [1, 2]) {
        for (const [budget, plain, robust] of modesIn(world(options, { tier_effect }), 20)) {
          const life = [budget, plain, robust].map(
            modes => modes?.find(({ cause }) => cause === 'wear-out')?.lifeYears ?? 0,
          )
          expect(life[0]).toBeLessThan(life[1] ?? 0)
          expect(life[1]).toBeLessThan(life[2] ?? 0)
        }
      }
    }
  })

  test('U1c, X1: with effect 0 the expected failures are equal, and the simulated ones differ by chance only', async () => {
    const { options } = await playOptions(world(THREE, { tier_effect: 0 }), { draws: 1000 })
    const [budget, plain, robust] = options.map(({ failures }) => failures)
    for (const other of [budget, robust]) {
      const gap = (other?.mean ?? 0) - (plain?.mean ?? 0)
      // z under 4.5: one false alarm in 150,000
      expect(Math.abs(gap)).toBeLessThan(4.5 * Math.hypot(other?.standardError ?? 0, plain?.standardError ?? 0))
    }
    const apart = await playOptions(world(THREE, { tier_effect: 2 }), { draws: 1000 })
    const [b = 0, p = 0, r = 0] = apart.options.map(({ failures }) => failures.mean)
    expect(b).toBeGreaterThan(p)
    expect(p).toBeGreaterThan(r)
  })

  test('K5: with spares at one price too, the difference is that of a run with tier_effect 0 and the plain spare', async () => {
    const dearSpare = { replacement: { parts: 1800 } }
    const quoted = [tiered('plain', 5000), tiered('robust', 6000, dearSpare)]
    const settings = { draws: 60 }
    const pair = first((await playOptions(world(quoted, { horizon_years: 15 }), settings)).comparisons)
    const alike = world([tiered('plain', 5000), tiered('robust', 6000)], { horizon_years: 15, tier_effect: 0 })
    const expected = first((await playOptions(alike, settings)).comparisons)
    expect(pair.withTierEffect0AndSpareAlike?.meanDifference).toBeCloseTo(expected.meanDifference, 6)
    expect(pair.withTierEffect0?.meanDifference).toBeGreaterThan(expected.meanDifference + 1)
    // equal spares: both figures are the same
    const same = first(
      (await playOptions(world([tiered('plain', 5000), tiered('robust', 6000)]), settings)).comparisons,
    )
    expect(same.withTierEffect0AndSpareAlike).toEqual(same.withTierEffect0)
  })

  test('K3, U1c: the case of no gap is the headline of the run with tier_effect 0', async () => {
    for (const over of [{}, { tier_effect: 1.5 }]) {
      const drawn = await playOptions(world(THREE, put({ horizon_years: 9 }, over)), { draws: 60 })
      const none = await playOptions(world(THREE, { horizon_years: 9, tier_effect: 0 }), { draws: 60 })
      expect(drawn.comparisons).toHaveLength(3)
      drawn.comparisons.forEach((pair, i) => {
        const without = none.comparisons[i]
        expect(pair.withTierEffect0?.meanDifference).toBeCloseTo(without?.meanDifference ?? Number.NaN, 6)
        expect(pair.withTierEffect0?.standardError).toBeCloseTo(without?.standardError ?? Number.NaN, 6)
        expect(pair.withTierEffect0?.breakEvenPremium).toBeCloseTo(without?.breakEvenPremium ?? Number.NaN, 6)
      })
      const moved = (pair: Comparison) => Math.abs(pair.meanDifference - (pair.withTierEffect0?.meanDifference ?? 0))
      expect(Math.max(...drawn.comparisons.map(moved))).toBeGreaterThan(10)
    }
  })

  test('U1c: same reliability and other warranty: the difference is the upfront gap less what the cover pays', async () => {
    const covered = tiered('robust', 6000, { warranty: { years: 20, claim_success: 1 } })
    const { options, comparisons } = await playOptions(world([tiered('plain', 5000), covered], { tier_effect: 0 }), {
      draws: 4000,
    })
    const [plain, robust] = options
    expect(robust?.costs.parts).toBe(0)
    const pair = first(comparisons)
    expect(Math.abs(pair.meanDifference - (1000 - (plain?.costs.parts ?? 0)))).toBeLessThan(4.5 * pair.standardError)
  })

  test('U1c: where no population takes a tier figure, no effect is drawn and no null case is given', async () => {
    const { comparisons } = await playOptions(
      world([tiered('plain', 5000), put(tiered('plain', 6000), { name: 'other' })]),
    )
    expect(first(comparisons).withTierEffect0).toBeNull()
    expect(read(world([tiered('plain', 5000)])).tierEffect).toBeNull()
  })
})

/** Components of an option block. */
function componentsOf(block: Block): Block[] {
  // written by `tiered`, always a list of blocks
  return block.components as Block[]
}
