import { describe, expect, test } from 'vitest'
import { comparePairs, NO_NULL_CASES } from '../../src/analysis/comparison/comparison.ts'
import { type Block, failsAt, first, playOptions, put, single, weibull, world } from '../worlds.ts'

/** Fails at 4, 8, 12, 16 for 1300 each. */
const cheap = (upfront: number, over: Block = {}) =>
  single(put({ failure: failsAt(4) }, over), { upfront_cost: upfront }, 'Cheap')
const dear = (upfront: number) => single({}, { upfront_cost: upfront }, 'Dear')
const pairOf = async (options: readonly Block[], over: Block = {}) => {
  const results = await playOptions(world(options, { horizon_years: 18, ...over }))
  return { results, pair: first(results.comparisons) }
}

describe('K2: pairs', () => {
  test('option has the higher upfront cost; break-even premium is what the dearer may cost more', async () => {
    for (const options of [
      [cheap(5000), dear(6500)],
      [dear(6500), cheap(5000)],
    ]) {
      const { results, pair } = await pairOf(options)
      const named = (id: string) => results.options.find(one => one.id === id)?.name
      expect([named(pair.option), named(pair.against)]).toEqual(['Dear', 'Cheap'])
      expect(pair.meanDifference).toBeCloseTo(1500 - 4 * 1300, 8)
      expect(pair.breakEvenPremium).toBeCloseTo(4 * 1300, 8)
      expect(pair.breakEvenInterval90).toEqual([1500 - pair.interval90[1], 1500 - pair.interval90[0]])
    }
  })

  test('of equals the one listed later is `option`; all pairs are listed, by id', async () => {
    const three = [single({}, {}, 'X'), single({}, {}, 'Y'), single({}, { upfront_cost: 1 }, 'Z')]
    const { comparisons } = await playOptions(world(three))
    expect(comparisons.map(({ option, against }) => `${option} ${against}`)).toEqual(['B A', 'A C', 'B C'])
  })
})

describe('K3: verdicts', () => {
  test('one set: the share is 0, 1 or ½; verdicts of worlds without chance', async () => {
    const better = (await pairOf([cheap(5000), dear(6500)])).pair
    expect(better.verdict).toBe('pays back')
    expect([better.chanceBetterOnAverage, better.chanceCheaper]).toEqual([1, 1])
    const worse = (await pairOf([cheap(5000), dear(16500)])).pair
    expect(worse.verdict).toBe('does not pay back')
    expect([worse.chanceBetterOnAverage, worse.chanceCheaper]).toEqual([0, 0])
    const same = (await pairOf([single({}, {}, 'X'), single({}, {}, 'Y')])).pair
    expect(same.verdict).toBe('no difference worth naming')
    expect([same.chanceBetterOnAverage, same.chanceCheaper]).toEqual([0.5, 0.5])
    expect(same.breakEvenPremium).toBeCloseTo(0, 12)
    const near = (await pairOf([single({}, {}, 'X'), single({}, { upfront_cost: 5049 }, 'Y')])).pair
    expect(near.verdict).toBe('no difference worth naming')
    const over = (await pairOf([single({}, {}, 'X'), single({}, { upfront_cost: 5051 }, 'Y')])).pair
    expect(over.verdict).toBe('does not pay back')
  })

  test('aheadFromYear: the first year from which on the dearer stays cheaper; null never', async () => {
    // 1500 dearer: two failures of 1300 make up for it, the second in year 8 or, a hair early, in 7
    const { pair } = await pairOf([cheap(5000, { failure: failsAt(4.5) }), dear(6500)])
    expect(pair.aheadFromYear).toBe(8)
    expect((await pairOf([cheap(5000), dear(16500)])).pair.aheadFromYear).toBeNull()
  })

  test('set means are shrunk towards the overall mean by √(σb²/(σb² + σw²/n)); the interval reaches 1.645 errors beyond', () => {
    const [sets, n] = [40, 20]
    const random = mulberry(5)
    const differences = Float64Array.from({ length: sets * n }, () => 0)
    for (let set = 0; set < sets; set++) {
      const level = -30 + 60 * (random() - 0.5)
      for (let i = 0; i < n; i++) differences[set * n + i] = level + 200 * (random() - 0.5)
    }
    const zero = new Float64Array(sets * n).fill(5000)
    const plain = {
      sharp: null,
      presentByYear: new Float64Array(3),
      acquisition: 0,
      job: { battery: 'none' as const, later: [] },
      battery: { earnings: 0, outage: 0, days: 0 },
    }
    const [pair] = comparePairs(
      [
        { id: 'A', upfrontCost: 10, lifetimeCost: zero, ...plain },
        { id: 'B', upfrontCost: 20, lifetimeCost: zero.map((cost, i) => cost + (differences[i] ?? 0)), ...plain },
      ],
      n,
      () => NO_NULL_CASES,
    )
    const means = Array.from({ length: sets }, (_, set) => meanOf(differences.subarray(set * n, (set + 1) * n)))
    const overall = meanOf(means)
    const within = meanOf(
      means.map((mean, set) => sumOf(differences.subarray(set * n, (set + 1) * n), x => (x - mean) ** 2) / (n - 1)),
    )
    const between = Math.max(0, sumOf(means, x => (x - overall) ** 2) / (sets - 1) - within / n)
    const drawn = means
      .map(mean => overall + Math.sqrt(between / (between + within / n)) * (mean - overall))
      .sort((a, b) => a - b)
    const quantile = (p: number) => {
      const place = p * (sets - 1)
      const low = drawn[Math.floor(place)] ?? 0
      return low + (place % 1) * ((drawn[Math.floor(place) + 1] ?? low) - low)
    }
    expect(between).toBeGreaterThan(0)
    const reach = 1.645 * (pair?.standardError ?? 0)
    expect(pair?.interval90[0]).toBeCloseTo(quantile(0.05) - reach, 8)
    expect(pair?.interval90[1]).toBeCloseTo(quantile(0.95) + reach, 8)
    expect(pair?.chanceBetterOnAverage).toBe(drawn.filter(mean => mean < 0).length / sets)
    expect(pair?.varianceShares.unknownShare).toBeCloseTo(between / (between + within), 10)
    // X2: forty sets make ten groups of four
    const groups = Array.from({ length: 10 }, (_, group) => meanOf(means.slice(4 * group, 4 * group + 4)))
    const spread = Math.sqrt(sumOf(groups, x => (x - overall) ** 2) / 9)
    expect(pair?.standardError).toBeCloseTo(spread / Math.sqrt(10), 8)
  })

  test('dearer energy never favours the option that loses more of it', async () => {
    const lossy = single({ failure: weibull(2, 6), downtime: { respond_days: 60 } }, {}, 'Lossy')
    const sound = single({ failure: weibull(2, 12), downtime: { respond_days: 10 } }, { upfront_cost: 5500 }, 'Sound')
    let before = Infinity
    for (const price of [0.1, 0.2, 0.4, 0.8]) {
      const energy = { export_price_per_kwh: price }
      const { pair } = await pairOf([lossy, sound], { site: { energy_value: energy } })
      expect(pair.meanDifference).toBeLessThan(before)
      before = pair.meanDifference
    }
  })
})

function meanOf(values: Iterable<number>): number {
  const all = [...values]
  return all.reduce((sum, value) => sum + value, 0) / all.length
}
function sumOf(values: Iterable<number>, term: (value: number) => number): number {
  return [...values].reduce((sum, value) => sum + term(value), 0)
}
/** A small generator of its own, independent of the program's. */
function mulberry(seed: number): () => number {
  let state = seed
  return () => {
    state = (state + 0x6d2b79f5) | 0
    let t = Math.imul(state ^ (state >>> 15), 1 | state)
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296
  }
}
