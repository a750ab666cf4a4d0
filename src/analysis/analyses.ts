import type { Prepared } from '../simulation/run.ts'
import { countedAlike } from './comparison/counted-alike.ts'
import { replacementAge } from './policies/replacement-age.ts'
import { waitingPolicy } from './policies/waiting-policy.ts'
import type { OptionResult } from './results/option.ts'
import type { SwitchPoint, WarrantySweep } from './results/what-if.ts'
import { type SwingCosts, swingCosts } from './sensitivity/swings.ts'
import { type BestPair, SwitchSearch } from './sensitivity/switch-points.ts'
import { otherComponents } from './warranty/other-components.ts'

/** Which draws of an option an analysis takes. */
interface DrawsOfOption {
  readonly option: number
  readonly draws: number
  readonly drawsPerSet: number
}

/** Input of each analysis in addition to the run, and its result. */
interface Catalogue {
  readonly replacementAge: {
    readonly asks: DrawsOfOption
    readonly finds: OptionResult['replacementAge']
  }
  readonly waitingPolicy: {
    readonly asks: DrawsOfOption
    readonly finds: OptionResult['waitingPolicy']
  }
  readonly countedAlike: {
    readonly asks: DrawsOfOption
    readonly finds: OptionResult['countedAlike']
  }
  readonly otherComponents: {
    readonly asks: DrawsOfOption
    readonly finds: WarrantySweep['otherComponents']
  }
  readonly swingCosts: {
    readonly asks: { readonly option: number; readonly draws: number }
    readonly finds: SwingCosts
  }
  readonly switchPoint: {
    readonly asks: { readonly input: number; readonly pair: BestPair }
    readonly finds: SwitchPoint
  }
}

/** One of the analyses that may be carried out in any thread. */
export type AnalysisName = keyof Catalogue
/** Input of an analysis in addition to the run. */
export type Asked<Name extends AnalysisName> = Catalogue[Name]['asks']
/** What an analysis finds. */
export type Found<Name extends AnalysisName> = Catalogue[Name]['finds']

/** An analysis by name with its input: what is handed to a thread. */
export type AnalysisTask = {
  [Name in AnalysisName]: { readonly name: Name; readonly asked: Asked<Name> }
}[AnalysisName]

/** Carries out an analysis, here or in a thread. */
export type Analyse = <Name extends AnalysisName>(name: Name, asked: Asked<Name>) => Promise<Found<Name>>

/** The analyses of a run that need nothing but the run: their results do not depend on the thread (N3). */
export class Analyses {
  readonly #prepared: Prepared
  #search: SwitchSearch | null = null

  /** @param variants - the run first */
  constructor([prepared]: readonly Prepared[]) {
    if (prepared === undefined) throw new RangeError('no run to analyse')
    this.#prepared = prepared
  }

  /**
   * Carries out one analysis.
   *
   * @param task - which, and its input
   * @returns the result that the catalogue names
   */
  carryOut(task: AnalysisTask): Found<AnalysisName> {
    const prepared = this.#prepared
    switch (task.name) {
      case 'replacementAge':
        return replacementAge(prepared, task.asked.option, task.asked.draws, task.asked.drawsPerSet)
      case 'waitingPolicy':
        return waitingPolicy(prepared, task.asked.option, task.asked.draws, task.asked.drawsPerSet)
      case 'countedAlike':
        return countedAlike(prepared, task.asked.option, task.asked.draws, task.asked.drawsPerSet)
      case 'otherComponents':
        return otherComponents(prepared, task.asked.option, task.asked.draws, task.asked.drawsPerSet)
      case 'swingCosts':
        return swingCosts(prepared, task.asked.option, task.asked.draws)
      case 'switchPoint':
        // histories are played once and reused for every input
        this.#search ??= new SwitchSearch(prepared, task.asked.pair)
        return this.#search.pointOf(task.asked.input)
      default:
        return task satisfies never
    }
  }
}
