import { type BlockRunner, localRunner, type Prepared } from '../simulation/run.ts'
import { type Analyse, Analyses, type AnalysisTask, type Found } from './analyses.ts'

/** What plays the blocks of a run and carries out its analyses. */
export interface Runner {
  readonly run: BlockRunner
  readonly analyse: Analyse
  readonly close: () => Promise<void>
}

/** Makes the runner of some variants of a run, the one the user wrote first; closed when the run ends. */
export type RunnerOf = (variants: readonly Prepared[], draws: number) => Runner

/**
 * Runs everything in this thread.
 *
 * @param variants - the run, and the same run under changed scenarios
 */
export function runHere(variants: readonly Prepared[]): Runner {
  const analyses = new Analyses(variants)
  return {
    run: localRunner(variants),
    analyse: async (name, asked) => {
      // lets signals and the progress bar be handled
      await new Promise(resolve => setImmediate(resolve))
      // the catalogue ties what is found to the name; the compiler cannot follow it through the switch
      return analyses.carryOut({ name, asked } as AnalysisTask) as Found<typeof name>
    },
    close: async () => {},
  }
}
