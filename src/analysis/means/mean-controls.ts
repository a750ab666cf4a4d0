import { comparedColumns, comparedFailures, type Stretches } from '../../history/expected-failures.ts'
import { sumOf } from '../../numerics/sum.ts'
import type { OptionPlan } from '../../simulation/option-plan.ts'
import { DRAWS_PER_SET, middleSet, SETS_PER_BLOCK } from '../../simulation/parameter-sets.ts'
import { SCALES_PER_POPULATION } from '../../simulation/sums/controls.ts'
import type { OptionDraws, SumLayout } from '../../simulation/sums/sum-layout.ts'
import { unknownsIn } from '../sensitivity/unknowns-read.ts'
import { ControlRows, SharpMeans } from './sharp-means.ts'

/** Sets below which means are plain: 4,000 draws. Ours: with fewer the coefficients are mostly chance. */
export const LEAST_SETS = 200
/**
 * Sets for each control, at least. Ours: with fewer, errors come out up to a quarter too small where nothing is unknown,
 * since controls are many there.
 */
const SETS_PER_CONTROL = { oneSet: 8, manySets: 5 } as const
/**
 * Expected failures in a stretch over all draws, at least: a rare failure depends on single sets more than on the mean.
 * Ours.
 */
export const LEAST_FAILURES = 20

/** Years of a long stretch. Ours. */
const LONG_YEARS = 5

/** Places of a population's controls whose sum is a control. */
interface Compared {
  readonly from: number
  readonly to: number
  /** Failures that it is about, a draw. */
  readonly expected: number
  /** That number times the square of the price of one: about its share in the variance of the cost. */
  readonly weight: number
  /** A delay, a season or a short stretch: these come after all other controls. */
  readonly late: boolean
}

/**
 * What is compared: long stretches, as sums of short ones; delays, seasons and the short ones. Those that matter most to
 * the cost come first, since with few sets only the first controls are used.
 */
function comparedIn(expected: Float64Array, stretches: Stretches, prices: readonly number[]): Compared[] {
  const each = Math.max(1, Math.round(LONG_YEARS / stretches.years))
  const columns = comparedColumns(stretches)
  const found: Compared[] = []
  prices.forEach((price, population) => {
    const first = population * columns
    const end = first + stretches.count
    const add = (from: number, to: number, late: boolean): void => {
      const failures = sumOf(expected.subarray(from, to))
      found.push({ from, to, expected: failures, weight: failures * price * price, late })
    }
    for (let from = first; from < end; from += each) add(from, Math.min(from + each, end), false)
    for (let from = each > 1 ? first : end; from < first + columns; from++) add(from, from + 1, true)
  })
  return found.sort((a, b) => b.weight - a.weight || a.from - b.from)
}

/**
 * The controls of one option, set after set, each with mean exactly 0 (X3):
 * - failures less their expected number, by population and stretch, and batches likewise: chance within a set; where
 * nothing is unknown, also delays of failures and failures by season, less what is expected;
 * - where sets differ, share failing × price of a repair of each population, each less its mean over the block. The two
 *   depend on different unknowns, whose values the hypercube pairs at random, so the mean of the product is 0; and
 * - the scales themselves less their mean over the block, whose sum is 0 whatever the sets: they change no mean, but
 * reduce the error of the other coefficients.
 */
export class MeanControls {
  readonly #chance: readonly Compared[]
  /** Number of places compared. */
  readonly #places: number
  readonly #rows: ControlRows
  readonly #setsPerControl: number
  /** By population: its lives and its prices depend on different unknowns. */
  readonly #apart: readonly boolean[]

  /**
   * @param plan - the option
   * @param layout - of its sums, with controls
   * @throws RangeError without controls
   */
  constructor(plan: OptionPlan, { controls }: SumLayout) {
    if (controls === null) throw new RangeError('no controls')
    const { scenario, option } = plan
    const { parameters, terms } = plan.at(middleSet(scenario.unknowns.length))
    const { stretches, models, populations, scales } = controls
    const expected = comparedFailures(parameters.units, stretches)
    this.#places = expected.length
    const prices = terms.units.map(({ parts, labour }) => parts + labour + terms.callOut)
    this.#chance = comparedIn(expected, stretches, prices)
    this.#setsPerControl = SETS_PER_CONTROL[scenario.unknowns.length === 0 ? 'oneSet' : 'manySets']
    this.#rows = new ControlRows(this.#chance.length + models + populations + scales)
    this.#apart = option.populations.map(({ failure, model, prices }) => {
      const lives = unknownsIn([failure, scenario.models[model], scenario.tierEffect])
      return ![...unknownsIn([prices, scenario.visit])].some(unknown => lives.has(unknown))
    })
  }

  /**
   * Adds the next block.
   *
   * @param block - in order of the draws
   * @param layout - of its sums, with controls
   */
  add(block: OptionDraws, { firstControl, length, controls }: SumLayout): void {
    if (controls === null) throw new RangeError('no controls')
    const { setSums } = block
    const sets = setSums.length / length
    const { columns } = this.#rows
    const rows = new Float64Array(sets * columns)
    const firstModel = firstControl + this.#places
    const scales = centredScales(block, firstModel + controls.models, controls.scales, length)
    for (let set = 0; set < sets; set++) {
      const first = set * length + firstControl
      let at = set * columns
      for (const { from, to } of this.#chance) rows[at++] = sumOf(setSums.subarray(first + from, first + to))
      for (let model = 0; model < controls.models; model++) rows[at++] = setSums[set * length + firstModel + model] ?? 0
      const own = scales.subarray(set * controls.scales, (set + 1) * controls.scales)
      for (let population = 0; population < controls.populations; population++) {
        const [, failing = 0, parts = 0, visit = 0] = own.subarray(SCALES_PER_POPULATION * population)
        rows[at++] = this.#apart[population] === true ? failing * (parts + visit) : 0
      }
      rows.set(own, at)
    }
    this.#rows.add(rows)
  }

  /**
   * The weights of the sets with which the mean of every control is 0.
   *
   * @returns null with too few sets; means are then plain
   */
  fit(): SharpMeans | null {
    const { sets, columns } = this.#rows
    if (sets < LEAST_SETS) return null
    const draws = sets * DRAWS_PER_SET
    const all = Array.from({ length: columns }, (_, i) => i)
    // what is about too few failures is left out
    const common = all.filter(i => draws * (this.#chance[i]?.expected ?? Infinity) >= LEAST_FAILURES)
    const isLate = (i: number): boolean => this.#chance[i]?.late ?? false
    const wanted = [...common.filter(i => !isLate(i)), ...common.filter(isLate)]
    return SharpMeans.positive(this.#rows, wanted, sets / this.#setsPerControl)
  }
}

/** Scales of each set of a block less their mean over it; 0 in a block that is not whole, and where nothing is unknown. */
function centredScales(block: OptionDraws, from: number, scales: number, length: number): Float64Array {
  const sets = block.setSums.length / length
  const centred = new Float64Array(sets * scales)
  if (sets < SETS_PER_BLOCK) return centred
  for (let scale = 0; scale < scales; scale++) {
    let sum = 0
    for (let set = 0; set < sets; set++) sum += block.setSums[set * length + from + scale] ?? 0
    const mean = sum / sets
    for (let set = 0; set < sets; set++) {
      const off = (block.setSums[set * length + from + scale] ?? 0) - mean
      // below this it is rounding
      centred[set * scales + scale] = Math.abs(off) < 1e-12 * Math.abs(mean) ? 0 : off
    }
  }
  return centred
}
