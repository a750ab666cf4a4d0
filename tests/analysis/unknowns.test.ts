import { describe, expect, test } from 'vitest'
import { OptionRun } from '../../src/analysis/option/option-run.ts'
import { splitVariance, varianceShares } from '../../src/analysis/option/variance-split.ts'
import { Priced, priceLifetimes } from '../../src/ledger/price-lifetimes.ts'
import { firstCosts } from '../../src/simulation/lifetime-costs.ts'
import { ParameterSets } from '../../src/simulation/parameter-sets.ts'
import { layoutOf } from '../../src/simulation/play-draws.ts'
import { OptionPlayer } from '../../src/simulation/play-option.ts'
import { BlockPlayer, blockTasks, planOf, prepare } from '../../src/simulation/run.ts'
import { mergeBlocks } from '../simulation/merged.ts'
import { type Block, first, meanOf, option, play, read, single, unit, weibull, world } from '../worlds.ts'

/** A Poisson count of mean m·μ, each 1: constant hazard, minimal repair, no other cost; m gamma of mean 1. */
const poisson = (mean: number, spread: number, over: Block = {}): Block =>
  world(
    [
      single(
        {
          failure: { shape: 1, characteristic_life_years: 20 / mean, model_spread: spread, bad_batch: { chance: 0 } },
          restore: { repair: { renews: 0, parts: 1, labour: 0 } },
          replacement: { labour: 0 },
          ...over,
        },
        { upfront_cost: 0 },
      ),
    ],
    { visit: { call_out: 0, roof_access: 0 }, site: { energy_value: { export_price_per_kwh: 0 } } },
  )

/** Lifetime cost by draw, and its reported error. */
function costsOf(blocks: Block, draws: number, seed: number): { mean: number; error: number } {
  const prepared = prepare(read(blocks), seed)
  const sets = new ParameterSets(prepared.scenario, seed, 'random')
  const player = new BlockPlayer([prepared])
  const merged = mergeBlocks(
    blockTasks(0, draws, false).map(task => player.play(task)),
    !sets.vary,
  )
  const run = new OptionRun(merged, layoutOf(planOf(prepared, 0), false), !sets.vary)
  const { mean, standardError } = run.estimate(run.layout.of('lifetimeCost'))
  return { mean, error: standardError }
}

describe('U2: chance and what is not known', () => {
  test.each([
    [4, 0.5],
    [10, 0.3],
    [2, 1],
  ])('Poisson of mean %d with a gamma rate of spread %d: chance is 1/(1 + μc²)', (mean, spread) => {
    const costs = firstCosts(prepare(read(poisson(mean, spread)), 3), 0, 20_000)
    const { chanceShare } = varianceShares(splitVariance(costs, 20))
    // 1,000 sets: a share of a variance is known to a few in a hundred
    expect(chanceShare).toBeGreaterThan(1 / (1 + mean * spread ** 2) - 0.06)
    expect(chanceShare).toBeLessThan(1 / (1 + mean * spread ** 2) + 0.06)
    const split = splitVariance(costs, 20)
    expect(Math.abs(split.within / mean - 1)).toBeLessThan(0.06)
    expect(Math.abs(split.between / (mean * spread) ** 2 - 1)).toBeLessThan(0.25)
  })

  test('the same shares as a nested run of many draws a set, whose means hardly scatter', () => {
    // a range of prices and of lives at once
    const blocks = world([
      single({
        failure: { shape: 2, characteristic_life_years: { low: 6, high: 12 }, bad_batch: { chance: 0 } },
        replacement: { parts: { low: 600, high: 1800 } },
      }),
    ])
    const scenario = read(blocks)
    const costs = firstCosts(prepare(scenario, 3), 0, 20_000)
    const shares = varianceShares(splitVariance(costs, 20))
    const plan = planOf(prepare(scenario, 11), 0)
    const sets = new ParameterSets(scenario, 11, 'random').ofBlock(0, 50)
    const inner = 400
    const nested = sets.flatMap(set => {
      const player = new OptionPlayer(plan)
      const at = plan.at(set)
      const priced = new Priced(scenario.horizonYears)
      const costs = new Float64Array(inner)
      player.clear()
      for (let draw = 0; draw < inner; draw++) {
        player.strike(draw, at)
        player.take(draw)
      }
      player.play(at)
      priceLifetimes(player.history, at.terms, plan.tablesFor(at.terms), priced)
      priced.accounts.sumRepairs(inner, costs)
      return [...costs]
    })
    const means = sets.map((_, set) => meanOf(nested.slice(set * inner, (set + 1) * inner)))
    const overall = meanOf(means)
    const between = means.reduce((sum, mean) => sum + (mean - overall) ** 2, 0) / (sets.length - 1)
    const within = meanOf(
      sets.map(
        (_, set) =>
          nested.slice(set * inner, (set + 1) * inner).reduce((sum, cost) => sum + (cost - (means[set] ?? 0)) ** 2, 0) /
          (inner - 1),
      ),
    )
    expect(Math.abs((shares.unknownShare ?? 0) - between / (between + within))).toBeLessThan(0.08)
  })

  test('N4: shares of a variance that is 0 are null', async () => {
    const { variance } = first((await play(world([single()]))).options)
    expect(variance).toEqual({ chanceShare: null, unknownShare: null, judgementShare: null })
  })
})

describe('U1: blocks and parameter sets', () => {
  const ranged = poisson(4, 0.5, { replacement: { parts: { low: 100, high: 300 }, labour: 0 }, restore: 'replace' })

  test('a column of the hypercube holds one value in each of 50 strata, and sets are 20 draws each', async () => {
    const scenario = read(ranged)
    const sets = new ParameterSets(scenario, 1, 'random')
    for (const [unknown] of scenario.unknowns.entries()) {
      const strata = sets.ofBlock(3, 50).map(set => Math.floor((set.uniforms[unknown] ?? 0) * 50))
      expect([...strata].sort((a, b) => a - b)).toEqual(Array.from({ length: 50 }, (_, i) => i))
    }
    const results = await play(ranged, { draws: 1990 })
    expect([results.draws, results.blocks, results.parameterSets]).toEqual([2000, 2, 100])
  })

  test('more draws never change the first ones', () => {
    const prepared = prepare(read(ranged), 9)
    const many = firstCosts(prepared, 0, 2500)
    for (const draws of [20, 460, 1000, 1980]) expect(firstCosts(prepared, 0, draws)).toEqual(many.subarray(0, draws))
  })

  test('with nothing ± there is one set', async () => {
    const results = await play(world([single({ failure: weibull(2, 9) })]), { draws: 100 })
    expect([results.parameterSets, results.swings, results.drivers]).toEqual([1, [], []])
  })

  test('K1, U1: adding or reordering options moves no other result; renaming does', async () => {
    const one = (name: string) =>
      option(name, 'string', [
        unit('string-inverter', {
          failure: { shape: 2, characteristic_life_years: { low: 6, high: 12 } },
          replacement: { parts: { low: 600, high: 1800 } },
        }),
      ])
    const meanBy = async (names: readonly string[]) => {
      const { options } = await play(world(names.map(one)), { draws: 400 })
      return Object.fromEntries(options.map(result => [result.name, result.lifetimeCost]))
    }
    const alone = await meanBy(['P'])
    const more = await meanBy(['Q', 'P', 'R'])
    expect(more.P).toEqual(alone.P)
    expect((await meanBy(['R', 'Q', 'P'])).Q).toEqual(more.Q)
    expect(more.R?.mean).not.toBe(more.Q?.mean)
  })

  test('U1a: bounds of a range are the 10 % and 90 % points', () => {
    const scenario = read(world([single({ replacement: { parts: { low: 600, value: 1000, high: 1800 } } })]))
    const sets = new ParameterSets(scenario, 1, 'random')
    const plan = planOf(prepare(scenario, 1), 0)
    const parts = Array.from({ length: 40 }, (_, block) => sets.ofBlock(block, 50))
      .flat()
      .map(set => plan.at(set).terms.units[0]?.parts ?? 0)
    const under = (limit: number) => parts.filter(price => price < limit).length / parts.length
    // strata of 2 %: the points are met exactly
    expect([under(600), under(1000), under(1800)]).toEqual([0.1, 0.5, 0.9])
  })

  test('U1b: two ranges of one name have the same quantile', () => {
    const priced = (name: string) =>
      unit('string-inverter', {
        replacement: { parts: { low: 600, high: 1800, name }, labour: { low: 100, high: 400, name } },
      })
    const scenario = read(world([option('T', 'string', [priced('market'), priced('market')])]))
    expect(scenario.unknowns.filter(unknown => unknown.kind === 'normal')).toHaveLength(1)
    const plan = planOf(prepare(scenario, 1), 0)
    for (const set of new ParameterSets(scenario, 1, 'random').ofBlock(0, 50)) {
      const [a, b] = plan.at(set).terms.units
      expect(a?.parts).toBe(b?.parts)
      expect(Math.log((a?.parts ?? 0) / Math.sqrt(600 * 1800)) / Math.log(3)).toBeCloseTo(
        Math.log((a?.labour ?? 0) / 200) / Math.log(4),
        9,
      )
    }
  })
})

describe('X2: errors are honest', () => {
  /** Spread of the means of many seeds over the error that each reports. */
  function honesty(blocks: Block, draws: number, seeds: number): number {
    const runs = Array.from({ length: seeds }, (_, seed) => costsOf(blocks, draws, seed + 1))
    const overall = meanOf(runs.map(run => run.mean))
    const spread = Math.sqrt(runs.reduce((sum, run) => sum + (run.mean - overall) ** 2, 0) / (seeds - 1))
    return spread / Math.sqrt(meanOf(runs.map(run => run.error ** 2)))
  }

  test('nothing unknown: the spread of 200 seeds is what is reported', () => {
    const ratio = honesty(poisson(1, 0), 400, 200)
    expect(ratio).toBeGreaterThan(0.85)
    expect(ratio).toBeLessThan(1.15)
  })

  test('eight blocks and a spread between models: the same', () => {
    const ratio = honesty(poisson(0.3, 0.5), 8000, 70)
    expect(ratio).toBeGreaterThan(0.85)
    expect(ratio).toBeLessThan(1.15)
  })

  test('under eight blocks groups of sets ignore the hypercube: the error is too large, never too small', () => {
    // σb² hardly scatters the mean of a block, but the whole of it scatters the groups
    const ratio = honesty(poisson(4, 0.5), 1000, 60)
    expect(ratio).toBeLessThan(0.5)
  })

  test('--precision stops at the first look at which every error is under the share, else at the ceiling', async () => {
    const blocks = world([single({ failure: weibull(2, 9) }, {}, 'A'), single({ failure: weibull(2, 8) }, {}, 'B')])
    const loose = await play(blocks, { draws: 40_000, precision: 0.05 })
    expect(loose.draws).toBe(4000)
    const lowest = Math.min(...loose.options.map(one => one.lifetimeCost.mean))
    for (const one of loose.options) expect(one.lifetimeCost.standardError).toBeLessThan(0.05 * lowest)
    expect((await play(blocks, { draws: 6010, precision: 1e-9 })).draws).toBe(6020)
  })
})
