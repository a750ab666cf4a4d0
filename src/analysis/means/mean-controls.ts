import { expectedFirst } from '../../history/expected-failures.ts'
import type { OptionPlan } from '../../simulation/option-plan.ts'
import { DRAWS_PER_SET, middleSet, SETS_PER_BLOCK } from '../../simulation/parameter-sets.ts'
import { SCALES_PER_POPULATION } from '../../simulation/sums/controls.ts'
import type { OptionDraws, SumLayout } from '../../simulation/sums/sum-layout.ts'
import { unknownsIn } from '../sensitivity/unknowns-read.ts'
import { ControlRows, SharpMeans } from './sharp-means.ts'

/** Sets below which means are plain: 4,000 draws. Ours: with fewer the coefficients are mostly chance. */
export const LEAST_SETS = 200
/** Sets for each control, at least. Ours, likewise. */
const SETS_PER_CONTROL = 5
/**
 * Expected failures in a stretch over all draws, at least: a rare failure depends on single sets more than on the mean.
 * Ours.
 */
export const LEAST_FAILURES = 20

/**
 * The controls of one option, set after set, each with mean exactly 0 (X3):
 * - failures less their expected number, by population and stretch, and batches likewise: chance within a set;
 * - where sets differ, share failing × price of a repair of each population, each less its mean over the block. The two
 *   depend on different unknowns, whose values the hypercube pairs at random, so the mean of the product is 0; and
 * - the scales themselves less their mean over the block, whose sum is 0 whatever the sets: they change no mean, but
 * reduce the error of the other coefficients.
 */
export class MeanControls {
  /** Unexpected failures by expected number at the middle, the most first: place, and that number a draw. */
  readonly #chance: readonly { readonly place: number; readonly expected: number }[]
  readonly #rows: ControlRows
  /** By population: its lives and its prices depend on different unknowns. */
  readonly #apart: readonly boolean[]

  /**
   * @param plan - the option
   * @param layout - of its sums, with controls
   * @throws RangeError without controls
   */
  constructor(plan: OptionPlan, { controls }: SumLayout) {
    if (controls === null) throw new RangeError('no controls')
    const { parameters } = plan.at(middleSet(plan.scenario.unknowns.length))
    const { stretches, models, populations, scales } = controls
    const expected = new Float64Array(stretches.count * populations)
    for (const unit of parameters.units) expectedFirst(unit, stretches, false, expected, unit.place * stretches.count)
    this.#chance = Array.from(expected, (number, place) => ({ place, expected: number })).sort(
      (a, b) => b.expected - a.expected || a.place - b.place,
    )
    this.#rows = new ControlRows(expected.length + models + populations + scales)
    const { scenario, option } = plan
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
    const scales = centredScales(block, firstControl + this.#chance.length + controls.models, controls.scales, length)
    for (let set = 0; set < sets; set++) {
      const from = set * length + firstControl
      let at = set * columns
      for (const { place } of this.#chance) rows[at++] = setSums[from + place] ?? 0
      for (let model = 0; model < controls.models; model++) {
        rows[at++] = setSums[from + this.#chance.length + model] ?? 0
      }
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
    const common = this.#chance.filter(({ expected }) => draws * expected >= LEAST_FAILURES).length
    const rare = this.#chance.length
    // the rare ones are left out, the rest are taken in order
    const wanted = Array.from({ length: columns }, (_, i) => i).filter(i => i < common || i >= rare)
    return SharpMeans.positive(this.#rows, wanted, sets / SETS_PER_CONTROL)
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
