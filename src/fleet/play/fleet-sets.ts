import { latinColumn } from '../../numerics/random/latin-hypercube.ts'
import { streamKey } from '../../numerics/random/streams.ts'
import { normalQuantile } from '../../numerics/special.ts'
import type { Scenario } from '../../scenario/model.ts'
import type { ParameterSet } from '../../simulation/parameter-sets.ts'

/** Columns kept at most. Ours: a folder of scenarios may name thousands of unknowns. */
const MOST_COLUMNS = 2000

/**
 * The parameter sets of a fleet: each draw is one, all draws are one hypercube (F3). An unknown is identified by its
 * name.
 */
export class FleetSets {
  readonly draws: number
  readonly #seed: number
  readonly #columns = new Map<string, { readonly uniforms: Float64Array; readonly scores: Float64Array }>()

  /**
   * @param seed - of the run
   * @param draws - of the fleet
   */
  constructor(seed: number, draws: number) {
    this.#seed = seed
    this.draws = draws
  }

  /**
   * The parameter sets of a scenario, one a draw.
   *
   * @param scenario - of a site; sites that share the name of an unknown share its place in every draw
   */
  of(scenario: Scenario): ParameterSet[] {
    const columns = scenario.unknowns.map(({ name }) => this.#column(name))
    return Array.from({ length: this.draws }, (_, draw) => ({
      uniforms: Float64Array.from(columns, column => column.uniforms[draw] ?? 0.5),
      scores: Float64Array.from(columns, column => column.scores[draw] ?? 0),
      multipliersAtOne: false,
    }))
  }

  #column(name: string): { readonly uniforms: Float64Array; readonly scores: Float64Array } {
    const known = this.#columns.get(name)
    if (known !== undefined) return known
    if (this.#columns.size >= MOST_COLUMNS) this.#columns.clear()
    const uniforms = latinColumn(streamKey(this.#seed, JSON.stringify(['unknown', name])), 0, this.draws)
    const column = { uniforms, scores: uniforms.map(normalQuantile) }
    this.#columns.set(name, column)
    return column
  }
}
