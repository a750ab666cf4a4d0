import { sumOf } from '../../numerics/sum.ts'
import { firstCosts, KeptHistories } from '../../simulation/lifetime-costs.ts'
import { type Prepared, withScenario } from '../../simulation/run.ts'
import { dearerFirst, pairedMean } from '../comparison/comparison.ts'
import { affordableDraws } from '../few-draws.ts'
import type { SwitchPoint } from '../results/what-if.ts'
import { type SwitchInput, switchInputs } from './switch-inputs.ts'

/**
 * Draws of the search, and most failures in all of them. Ours: their difference from the full run is added to each
 * result; the point found is verified by one run.
 */
const SEARCH_DRAWS = 1000
const SEARCH_FAILURES = 50_000
/** The same of the run that verifies a point. Ours: on the same draws the two runs differ by the input only. */
const VERIFY_DRAWS = 4000
const VERIFY_FAILURES = 200_000

/** The two best options of a run, as the search needs them. */
export interface BestPair {
  readonly best: number
  readonly second: number
  /** Lifetime cost by draw of the whole run. */
  readonly bestCosts: Float64Array
  readonly secondCosts: Float64Array
  readonly drawsPerSet: number
  /** Mean of the second less that of the best. */
  readonly difference: number
}

/**
 * Where the two best options change places (S2), each input alone, all others as they are. Histories that only prices
 * change are played once for all inputs.
 */
export class SwitchSearch {
  readonly #prepared: Prepared
  readonly #pair: BestPair
  readonly #inputs: readonly SwitchInput[]
  readonly #searchDraws: number
  readonly #verifyDraws: number
  /** By option: the draws that the search and the verification price repeatedly. */
  readonly #kept = new Map<number, KeptHistories>()

  /**
   * @param prepared - the run
   * @param pair - its two best options
   */
  constructor(prepared: Prepared, pair: BestPair) {
    this.#prepared = prepared
    this.#pair = pair
    this.#inputs = switchInputs(prepared.scenario, [pair.best, pair.second])
    const { length } = pair.bestCosts
    const affordable = (draws: number, failures: number): number =>
      Math.min(
        ...[pair.best, pair.second].map(one => affordableDraws(prepared, one, Math.min(draws, length), failures)),
      )
    this.#searchDraws = affordable(SEARCH_DRAWS, SEARCH_FAILURES)
    this.#verifyDraws = affordable(VERIFY_DRAWS, VERIFY_FAILURES)
  }

  /**
   * Where an input reverses the order of the two.
   *
   * @param place - of the input among `switchInputs` of the pair, from 0
   * @returns the point; value null where nothing within the range reverses the order
   * @throws RangeError if there is no such input
   */
  pointOf(place: number): SwitchPoint {
    const input = this.#inputs[place]
    if (input === undefined) throw new RangeError(`no input ${place}`)
    const { scenario } = this.#prepared
    const id = input.option === null ? null : (scenario.options[input.option]?.id ?? null)
    const { unit, present, low, high } = input
    const value = this.#find(input)
    const half = (at: number | null): number | null => (at === null ? null : (input.halfFailBy?.(at) ?? null))
    const halfFailBy =
      input.halfFailBy === undefined
        ? null
        : { present: half(present), value: half(value), low: half(low), high: half(high) }
    const plain = { input: input.input, option: id, unit, present, low, high, halfFailBy }
    if (value === null) return { ...plain, value: null, differenceThere: null, standardError: null, draws: null }
    const draws = this.#verifyDraws
    const there = this.#differences(input, value, draws)
    const { mean, standardError } = pairedMean(there, Math.min(this.#pair.drawsPerSet, draws))
    const { best, second } = this.#pair
    const [option] = dearerFirst(scenario.options, best, second)
    const difference = mean + this.#missing(draws)
    return { ...plain, value, differenceThere: option === second ? difference : -difference, standardError, draws }
  }

  /** The switch nearest to the present value; null if the order never reverses within the range. */
  #find(input: SwitchInput): number | null {
    const { present, low, high } = input
    const now = this.#gap(input, present)
    const found = [low, high].flatMap(end => {
      if (end === present) return []
      const there = this.#gap(input, end)
      if (Math.sign(there) === Math.sign(now)) return []
      return [input.whole ? this.#wholeRoot(input, present, end) : this.#root(input, present, now, end, there)]
    })
    const distance = (value: number): number => Math.abs(value - present)
    return found.reduce<number | null>(
      (near, value) => (near === null || distance(value) < distance(near) ? value : near),
      null,
    )
  }

  /** Secant steps kept inside a bracket; a gap under a thousandth of the ends' is enough. */
  #root(input: SwitchInput, from: number, gapFrom: number, to: number, gapTo: number): number {
    let [a, fa, b, fb] = [from, gapFrom, to, gapTo]
    const enough = 1e-3 * Math.min(Math.abs(gapFrom), Math.abs(gapTo))
    for (let step = 0; step < 12; step++) {
      // regula falsi; every third step halves, so that a bent curve cannot stall it
      const x = step % 3 === 2 ? (a + b) / 2 : a - (fa * (b - a)) / (fb - fa)
      const fx = this.#gap(input, x)
      if (Math.abs(fx) <= enough) return x
      if (Math.sign(fx) === Math.sign(fa)) [a, fa] = [x, fx]
      else [b, fb] = [x, fx]
    }
    return a - (fa * (b - a)) / (fb - fa)
  }

  /**
   * The whole number nearest to the present value at which the order is reversed; a present value may lie between two.
   */
  #wholeRoot(input: SwitchInput, from: number, to: number): number {
    let [near, far] = [to > from ? Math.floor(from) : Math.ceil(from), to]
    const sign = Math.sign(this.#gap(input, from))
    while (Math.abs(far - near) > 1) {
      const middle = near + Math.trunc((far - near) / 2)
      if (Math.sign(this.#gap(input, middle)) === sign) near = middle
      else far = middle
    }
    return far
  }

  #gap(input: SwitchInput, value: number): number {
    const differences = this.#differences(input, value, this.#searchDraws)
    return sumOf(differences) / differences.length + this.#missing(differences.length)
  }

  /** Mean difference of the whole run less that of the first draws, the input as it is. */
  #missing(draws: number): number {
    const { bestCosts, secondCosts, difference } = this.#pair
    return difference - meanDifference(bestCosts, secondCosts, draws)
  }

  /** Second less best, by draw, with the input at a value. */
  #differences(input: SwitchInput, value: number, draws: number): Float64Array {
    const { best, second, bestCosts, secondCosts } = this.#pair
    const changed = withScenario(this.#prepared, input.at(value))
    const costs = (option: number, present: Float64Array): Float64Array =>
      input.option === null || input.option === option
        ? input.pricesOnly
          ? this.#histories(option).costs(changed, draws)
          : firstCosts(changed, option, draws)
        : present
    const bestThere = costs(best, bestCosts)
    const secondThere = costs(second, secondCosts)
    return Float64Array.from({ length: draws }, (_, draw) => (secondThere[draw] ?? 0) - (bestThere[draw] ?? 0))
  }

  #histories(option: number): KeptHistories {
    const known = this.#kept.get(option)
    if (known !== undefined) return known
    const histories = new KeptHistories(this.#prepared, option, this.#verifyDraws)
    this.#kept.set(option, histories)
    return histories
  }
}

function meanDifference(best: Float64Array, second: Float64Array, draws: number): number {
  let sum = 0
  for (let draw = 0; draw < draws; draw++) sum += (second[draw] ?? 0) - (best[draw] ?? 0)
  return sum / draws
}
