import { describe, expect, test } from 'vitest'
import { OptionRun } from '../../src/analysis/option/option-run.ts'
import { populationResults } from '../../src/analysis/self-check/checked-counts.ts'
import { middleSet } from '../../src/simulation/parameter-sets.ts'
import { layoutOf } from '../../src/simulation/play-draws.ts'
import { BlockPlayer, blockTasks, planOf, prepare } from '../../src/simulation/run.ts'
import { type Block, first, option, play, read, unit, weibull, world } from '../worlds.ts'
import { mergeBlocks } from './merged.ts'

const MODES = {
  modes: [
    { cause: 'early', susceptible: 0.1, shape: 0.7, characteristic_life_years: 1 },
    { cause: 'chance', shape: 1, characteristic_life_years: 40 },
    { cause: 'wear', shape: 3.5, characteristic_life_years: 11 },
  ],
  model_spread: 0,
  bad_batch: { chance: 0 },
}
const SLOW = { detect_days: { median: 10, p90: 60 }, respond_days: { median: 60, p90: 300 }, repair_days: 20 }
const BATCH = { chance: 0.3, affects: 0.5, life_times: 0.3 }

/** Independent populations: every life with every age, delay and plan. */
const GRID: readonly Block[] = [
  ...[
    weibull(0.7, 15),
    weibull(1, 12),
    weibull(2.5, 9),
    weibull(8, 6),
    MODES,
    weibull(2, 10, { bad_batch: BATCH }),
  ].flatMap(failure =>
    [0, 4, 9].flatMap(age_years =>
      [{}, SLOW].map(downtime => ({ failure, age_years, downtime, count: age_years === 4 ? 5 : 1 })),
    ),
  ),
  ...[weibull(1, 12), weibull(2.5, 9), MODES].flatMap(failure =>
    [0, 5].map(age_years => ({ failure, age_years, downtime: SLOW, replace_at_age_years: 7 })),
  ),
]

/** Scores of one population: all failures, and units failing at least once. */
function scoresOf(components: readonly Block[], over: Block = {}, name = 'X') {
  const blocks = world([option(name, 'string', components, over)], { horizon_years: 25 })
  const prepared = prepare(read(blocks), 5)
  const player = new BlockPlayer([prepared])
  const plan = planOf(prepared, 0)
  const merged = mergeBlocks(
    blockTasks(0, 1000, false).map(task => player.play(task)),
    true,
  )
  const run = new OptionRun(merged, layoutOf(plan, false), true)
  return populationResults(plan, run, [{ index: 0, set: middleSet(0) }]).map(({ result }) => result)
}

describe('X1: simulation against the renewal equation', () => {
  test('every score of a fixed grid lies within 4, nineteen in twenty within 2', () => {
    // each population has its own name and so its own streams: the scores are independent
    const scores = GRID.flatMap((over, i) => {
      const result = first(scoresOf([unit('string-inverter', over)], {}, `X${i}`))
      expect(result.checked).toBe('failures')
      return [result.failures.zScore, result.firstFailures.zScore]
    }).filter(score => score !== null)
    expect(scores.length).toBeGreaterThan(60)
    expect(Math.max(...scores.map(Math.abs))).toBeLessThan(4)
    const within = scores.filter(score => Math.abs(score) < 2).length / scores.length
    // share of 80 scores at 95.4 %: two standard errors are 4.7 points
    expect(within).toBeGreaterThan(0.9)
  })

  test('units behind a gateway, a policy or a repair are checked by those failing at least once; none with plans too', () => {
    const failing = { failure: weibull(2, 12), count: 3 }
    const gateway = unit('gateway', { failure: weibull(1, 5) })
    const inverter = (over: Block = {}) => unit('string-inverter', { ...failing, ...over })
    const repair = { restore: { repair: { renews: 0.5, parts: 1, labour: 1 } } }
    const policy = { visit_policy: { wait_for_units: 2 } }
    const checked = (components: readonly Block[], over: Block = {}) => scoresOf(components, over)
    for (const [result] of [
      checked([inverter(), gateway]),
      checked([inverter(repair)]),
      checked([inverter()], policy),
    ]) {
      expect(result?.checked).toBe('first failures')
      expect(result?.failures.exactMean).toBeNull()
      expect(result?.firstFailures.exactMean).toBeCloseTo(3 * (1 - Math.exp(-((25 / 12) ** 2))), 9)
      expect(Math.abs(result?.firstFailures.zScore ?? 9)).toBeLessThan(4)
    }
    expect(checked([inverter(), gateway])[1]?.checked).toBe('failures')
    expect(checked([inverter({ ...repair, replace_at_age_years: 9 })])[0]?.checked).toBe('none')
  })

  test('with ± the exact mean is that of the checked sets, and the score holds', async () => {
    const failure = {
      shape: { low: 1.5, high: 3 },
      characteristic_life_years: { low: 8, high: 16 },
      model_spread: 0.4,
      bad_batch: { chance: { low: 0.02, high: 0.1 }, affects: 0.4, life_times: 0.4 },
    }
    const { options } = await play(
      world([option('X', 'string', [unit('string-inverter', { failure, downtime: SLOW })])]),
      { draws: 2000 },
    )
    const { failures, populations } = first(options)
    expect(failures.exactMean).not.toBeNull()
    expect(Math.abs(failures.zScore ?? 9)).toBeLessThan(4)
    expect(Math.abs(first(populations).firstFailures.zScore ?? 9)).toBeLessThan(4)
  })

  test('N4: a score with error 0 is null; the option’s exact mean is null where one population has none', async () => {
    const fixed = await play(world([option('X', 'string', [unit('string-inverter')])]))
    expect(first(fixed.options).failures.zScore).toBeNull()
    expect(first(fixed.options).failures.exactMean).toBeCloseTo(0, 12)
    const watched = await play(
      world([option('X', 'string', [unit('string-inverter', { failure: weibull(2, 9) }), unit('gateway')])]),
    )
    expect(first(watched.options).failures.exactMean).toBeNull()
  })

  test('N4: cost per kWh without kWh is null', async () => {
    // swapped at the start, and that takes longer than the horizon
    const down = unit('string-inverter', { age_years: 9, replace_at_age_years: 5, downtime: { repair_days: 3650 } })
    for (const discount_rate of [0, 0.03, 0.07]) {
      const blocks = world([option('X', 'string', [down])], { horizon_years: 7, discount_rate })
      const { energy, availability } = first((await play(blocks)).options)
      expect(availability.timeBased).toBeCloseTo(0, 12)
      expect(energy.deliveredKwh).toBeCloseTo(0, 9)
      expect(energy.costPerDeliveredKwh).toBeNull()
    }
  })
})
