import { normalScore } from '../numerics/distributions/normal-scores.ts'
import { SCORE_90 } from '../numerics/distributions/two-piece.ts'
import { latinColumn } from '../numerics/random/latin-hypercube.ts'
import { type StreamKey, streamKey } from '../numerics/random/streams.ts'
import type { Scenario } from '../scenario/model.ts'
import type { Scores } from '../scenario/quantity.ts'

/** Draws of one block (U1). */
export const DRAWS_PER_BLOCK = 1000
/** Draws of one parameter set (U1). */
export const DRAWS_PER_SET = 20
/** Parameter sets of one block (U1). */
export const SETS_PER_BLOCK = DRAWS_PER_BLOCK / DRAWS_PER_SET

/** Blocks whose sets are kept for the next option: their number times a few hundred bytes an unknown. */
const BLOCKS_KEPT = 64

/** How first failures are drawn: at random, or from evenly spread points. */
export type Points = 'random' | 'even'

/** One possible truth about everything that is not known (U1). */
export interface ParameterSet {
  /** Position of each unknown in its distribution, (0, 1). */
  readonly uniforms: Float64Array
  /** The same as standard normal scores. */
  readonly scores: Scores
  /** Multipliers of M4 are 1 (S1), whatever their position. */
  readonly multipliersAtOne: boolean
  /** The unknown whose multiplier keeps its position nevertheless (K4); absent: none. */
  readonly freeMultiplier?: number
}

/** A set of a hypercube; its scores are computed when first needed. */
class DrawnSet implements ParameterSet {
  readonly uniforms: Float64Array
  readonly multipliersAtOne = false
  readonly #widened: readonly number[]
  #scores: Float64Array | null = null

  constructor(uniforms: Float64Array, widened: readonly number[]) {
    this.uniforms = uniforms
    this.#widened = widened
  }

  get scores(): Scores {
    this.#scores ??= this.uniforms.map((uniform, unknown) => (this.#widened[unknown] ?? 1) * normalScore(uniform))
    return this.#scores
  }
}

/** The parameter sets of a run: one hypercube a block, or one set for all where nothing is unknown (U1). */
export class ParameterSets {
  readonly #keys: readonly StreamKey[]
  /** By unknown: factor on its score (K4). */
  readonly #widened: readonly number[]
  readonly #even: boolean
  /** The set of all draws where nothing is unknown. */
  readonly #only = [middleSet(0)]
  readonly #kept = new Map<number, readonly ParameterSet[]>()

  /**
   * @param scenario - its unknowns
   * @param seed - of the run
   * @param points - the error of evenly spread points is estimated from blocks, so they have sets even where nothing is
   * unknown
   */
  constructor(scenario: Scenario, seed: number, points: Points) {
    this.#even = points === 'even'
    this.#widened = scenario.unknowns.map(unknown => unknown.widened ?? 1)
    this.#keys = scenario.unknowns.map(unknown => streamKey(seed, JSON.stringify(['unknown', unknown.name])))
  }

  /** Whether draws come in more than one parameter set. */
  get vary(): boolean {
    return this.#keys.length > 0 || this.#even
  }

  /**
   * Draws that share one parameter set: 20, or all of the run where nothing is unknown.
   *
   * @param draws - draws of the run
   */
  drawsPerSet(draws: number): number {
    return this.vary ? DRAWS_PER_SET : draws
  }

  /**
   * The sets of one block, in order.
   *
   * @param block - number of the block, from 0
   * @param sets - how many of its 50 are played; one where nothing is unknown
   */
  ofBlock(block: number, sets: number): readonly ParameterSet[] {
    if (!this.vary) return this.#only
    let whole = this.#kept.get(block)
    if (whole === undefined) {
      whole = this.#drawBlock(block)
      if (this.#kept.size < BLOCKS_KEPT) this.#kept.set(block, whole)
    }
    return whole.length === sets ? whole : whole.slice(0, sets)
  }

  #drawBlock(block: number): ParameterSet[] {
    const columns = this.#keys.map(key => latinColumn(key, block, SETS_PER_BLOCK))
    return Array.from({ length: SETS_PER_BLOCK }, (_, set) => {
      const uniforms = Float64Array.from(columns, column => column[set] ?? 0.5)
      return new DrawnSet(uniforms, this.#widened)
    })
  }
}

/** The sets of the latest runs, by their list of unknowns: a changed scenario keeps the list, and so the sets (K1). */
const latest = new WeakMap<Scenario['unknowns'], { seed: number; points: Points; sets: ParameterSets }>()

/**
 * The parameter sets of a run; those of the same run under a changed scenario are drawn once.
 *
 * @param scenario - its unknowns
 * @param seed - of the run
 * @param points - see `ParameterSets`
 */
export function parameterSetsOf(scenario: Scenario, seed: number, points: Points): ParameterSets {
  const known = latest.get(scenario.unknowns)
  if (known !== undefined && known.seed === seed && known.points === points) return known.sets
  const sets = new ParameterSets(scenario, seed, points)
  latest.set(scenario.unknowns, { seed, points, sets })
  return sets
}

/**
 * The set in which everything is at its middle and multipliers are 1 (S1).
 *
 * @param unknowns - how many
 */
export function middleSet(unknowns: number): ParameterSet {
  return {
    uniforms: new Float64Array(unknowns).fill(0.5),
    scores: new Float64Array(unknowns),
    multipliersAtOne: true,
  }
}

/**
 * The middle with one unknown at its 10 % or 90 % point (S1).
 *
 * @param unknowns - how many
 * @param unknown - which
 * @param high - 90 % point, else 10 %
 */
export function swungSet(unknowns: number, unknown: number, high: boolean): ParameterSet {
  const set = middleSet(unknowns)
  set.uniforms[unknown] = high ? 0.9 : 0.1
  set.scores[unknown] = high ? SCORE_90 : -SCORE_90
  return { ...set, freeMultiplier: unknown }
}
