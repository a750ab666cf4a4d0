import type { LifeParameters } from '../history/parameters.ts'
import { AgeTable } from '../numerics/lives/age-table.ts'
import { cumulativeHazard, type Mode } from '../numerics/lives/competing-risks.ts'
import { DenseAges } from '../numerics/lives/dense-ages.ts'
import type { ParameterSet } from './parameter-sets.ts'

/** Lives of a population kept for further sets, since swings return to the middle. Ours. */
const KEPT = 4
/** Lives kept with a parameter set. Ours: more kinds of unit than that differ in one run only where users describe each. */
const KEPT_WITH_SET = 12

interface KeptLife {
  readonly ageYears: number
  readonly horizonYears: number
  readonly life: LifeParameters
}

/** Lives by parameter set: units of one kind have the same in every option and in every analysis. */
const withSet = new WeakMap<ParameterSet, KeptLife[]>()

/** Modes of the populations of an option with their tables of ages, made once for all with the same modes. */
export class Lives {
  readonly #horizonYears: number
  /** By population: the first few that were made, and the latest. */
  readonly #kept: (readonly LifeParameters[])[] = []

  /** @param horizonYears - years */
  constructor(horizonYears: number) {
    this.#horizonYears = horizonYears
  }

  /**
   * The life of a population in a parameter set.
   *
   * @param place - of the population
   * @param modes - of its units
   * @param ageYears - of its original units, years
   * @param dense - whether tables are dense; worthwhile from thousands of ages
   * @param set - the life is kept with it for other options; null: not kept
   */
  of(
    place: number,
    modes: readonly Mode[],
    ageYears: number,
    dense: boolean,
    set: ParameterSet | null,
  ): LifeParameters {
    const kept = this.#kept[place] ?? []
    const known = kept.find(life => sameModes(life.modes, modes) && life.ages instanceof DenseAges === dense)
    if (known !== undefined) return known
    const life = dense || set === null ? this.#make(modes, ageYears, dense) : this.#shared(modes, ageYears, set)
    this.#kept[place] = [...kept.slice(0, KEPT - 1), life]
    return life
  }

  #shared(modes: readonly Mode[], ageYears: number, set: ParameterSet): LifeParameters {
    const horizonYears = this.#horizonYears
    const lives = withSet.get(set) ?? []
    const known = lives.find(
      one => one.ageYears === ageYears && one.horizonYears === horizonYears && sameModes(one.life.modes, modes),
    )
    if (known !== undefined) return known.life
    const life = this.#make(modes, ageYears, false)
    if (lives.length < KEPT_WITH_SET) lives.push({ ageYears, horizonYears, life })
    withSet.set(set, lives)
    return life
  }

  #make(modes: readonly Mode[], ageYears: number, dense: boolean): LifeParameters {
    const horizon = this.#horizonYears
    const Ages = dense ? DenseAges : AgeTable
    return {
      modes,
      ages: new Ages(modes, ageYears + horizon),
      hazardAtStart: cumulativeHazard(modes, ageYears),
      hazardAtHorizon: cumulativeHazard(modes, ageYears + horizon),
      hazardOfNewUnit: cumulativeHazard(modes, horizon),
    }
  }
}

function sameModes(a: readonly Mode[], b: readonly Mode[]): boolean {
  return (
    a.length === b.length &&
    a.every((mode, i) => {
      const other = b[i]
      return mode.susceptible === other?.susceptible && mode.shape === other.shape && mode.lifeYears === other.lifeYears
    })
  )
}
