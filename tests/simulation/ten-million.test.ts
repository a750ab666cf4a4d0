import { expect, test } from 'vitest'
import { exactCounts } from '../../src/analysis/self-check/exact-failures.ts'
import { middleSet } from '../../src/simulation/parameter-sets.ts'
import { MOST_LIFETIMES, OptionPlayer } from '../../src/simulation/play-option.ts'
import { planOf, prepare } from '../../src/simulation/run.ts'
import { type Block, option, read, unit, weibull, world } from '../worlds.ts'

const DELAYS = {
  detect_days: { median: 3, p90: 7.4 },
  respond_days: { median: 12, p90: 25.9 },
  repair_days: 0.2,
}
const NO_BATCH = { model_spread: 0, bad_batch: { chance: 0 } }
/** Infinite hazard at age 0 and wear-out: the hardest of the tables. */
const TWO_MODES = {
  modes: [
    { cause: 'early', shape: 0.7, characteristic_life_years: 400 },
    { cause: 'wear-out', shape: 3.5, characteristic_life_years: 38 },
  ],
  ...NO_BATCH,
}

/** Mean failures of an option by 25 years in many draws, by the tables used where a set is evaluated often. */
function failuresIn(draws: number, component: Block): { mean: number; error: number; exact: number } {
  const scenario = read(world([option('X', 'string', [component])], { horizon_years: 25 }))
  const plan = planOf(prepare(scenario, 9), 0)
  const set = plan.at(middleSet(scenario.unknowns.length), true)
  const player = new OptionPlayer(plan)
  const failures = new Float64Array(MOST_LIFETIMES)
  let sum = 0
  let squares = 0
  for (let draw = 0; draw < draws; ) {
    draw = player.playSome(draw, draws, set)
    const { n, rows } = player.history
    failures.fill(0, 0, n)
    for (const own of rows)
      for (let row = 0; row < own.n; row++) failures[own.lane[row] ?? 0] = (failures[own.lane[row] ?? 0] ?? 0) + 1
    for (let lane = 0; lane < n; lane++) {
      const count = failures[lane] ?? 0
      sum += count
      squares += count * count
    }
  }
  const [played] = set.parameters.units
  if (played === undefined) throw new Error('no unit')
  const mean = sum / draws
  return {
    mean,
    error: Math.sqrt((squares / draws - mean * mean) / draws),
    exact: exactCounts(set.parameters, played, 0).failures ?? Number.NaN,
  }
}

// one false alarm in 16,000 for each; ten million draws see a bias of four parts in ten thousand
test.each([
  [
    'one inverter, ten million draws',
    10_000_000,
    unit('string-inverter', { failure: weibull(2.2, 14), downtime: DELAYS }),
  ],
  [
    'twenty units of two modes, ten million lives',
    500_000,
    unit('string-inverter', { count: 20, failure: TWO_MODES, downtime: DELAYS }),
  ],
] as const)(
  'X1: the kernel with its tables meets the renewal equation: %s',
  (_, draws, component) => {
    const { mean, error, exact } = failuresIn(draws, component)
    expect(error / exact).toBeLessThan(6e-4)
    expect(Math.abs(mean - exact) / error).toBeLessThan(4)
  },
  300_000,
)
