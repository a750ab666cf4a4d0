import { InputError } from '../../errors.ts'
import type { Problems } from '../../input/problems.ts'
import { readTextFrom } from '../../input/read-text.ts'
import type { GivenScenario } from '../schema/scenario.ts'
import { type FittedRecords, readFittedRecords, splitRecords } from './fitted-records.ts'

/** Fitted failure models by what `failure.records` names, as written. */
export type FittedFiles = ReadonlyMap<string, FittedRecords>

/**
 * Reads the results of `lifetally fit` that a scenario names.
 *
 * @param given - the scenario as written, without problems
 * @param baseFolder - folder that relative paths start from
 * @param problems - takes files that cannot be read or used, at their key
 * @returns one model for each text named
 */
export function readFittedFiles(given: GivenScenario, baseFolder: string, problems: Problems): FittedFiles {
  const found = new Map<string, FittedRecords>()
  for (const [option, { components }] of given.options.entries()) {
    for (const [component, { failure }] of components.entries()) {
      const written = failure?.records
      if (written === undefined || found.has(written)) continue
      const { file, group } = splitRecords(written)
      try {
        found.set(written, readFittedRecords(readTextFrom(baseFolder, file), file, group))
      } catch (error) {
        if (!(error instanceof InputError)) throw error
        const message = error.problems[0]?.message ?? 'cannot be read'
        problems.add(['options', option, 'components', component, 'failure', 'records'], `${file}: ${message}`)
      }
    }
  }
  return found
}
