import { relative, resolve } from 'node:path'
import { InputError } from '../../errors.ts'
import type { Problems } from '../../input/problems.ts'
import { readTextFrom } from '../../input/read-text.ts'
import { readFittedRecords, splitRecords } from '../../scenario/files/fitted-records.ts'
import { isBlock } from './parsed.ts'

/** Keys of a failure that are kept where records say how units fail. */
const KEPT = ['model_spread', 'bad_batch', 'none_failed_so_far'] as const

/**
 * The records that a fleet file names, as its template would name them.
 *
 * @param given - model -> result of a fit, relative to the fleet file
 * @param folder - of the fleet file
 * @param baseFolder - of the template
 * @param problems - takes fits that cannot be read or used, at their key
 */
export function recordsSeenFrom(
  given: Readonly<Record<string, string>>,
  folder: string,
  baseFolder: string,
  problems: Problems,
): ReadonlyMap<string, string> {
  const seen = new Map<string, string>()
  for (const [model, written] of Object.entries(given)) {
    const { file, group } = splitRecords(written)
    try {
      readFittedRecords(readTextFrom(folder, file), file, group)
    } catch (error) {
      if (!(error instanceof InputError)) throw error
      problems.add(['records', model], `${file}: ${error.problems[0]?.message ?? 'cannot be read'}`)
    }
    seen.set(model, `${relative(baseFolder, resolve(folder, file))}${group === null ? '' : `#${group}`}`)
  }
  return seen
}

/**
 * A scenario in which the units of some models fail as their field records say (F7a). Each result of a fit is one
 * unknown, so its uncertainty is the same for all sites in a draw (F3).
 *
 * @param value - as parsed, each component of the first option with its model
 * @param records - model -> what `failure.records` takes
 */
export function withRecords(value: unknown, records: ReadonlyMap<string, string>): unknown {
  if (records.size === 0 || !isBlock(value) || !Array.isArray(value.options)) return value
  const options: readonly unknown[] = value.options
  return { ...value, options: options.map(option => withFits(option, records)) }
}

function withFits(option: unknown, records: ReadonlyMap<string, string>): unknown {
  if (!isBlock(option) || !Array.isArray(option.components)) return option
  const components: readonly unknown[] = option.components
  return {
    ...option,
    components: components.map(component => {
      if (!isBlock(component)) return component
      const fit = records.get(String(component.model))
      if (fit === undefined) return component
      const given = isBlock(component.failure) ? component.failure : {}
      const kept = KEPT.filter(key => given[key] !== undefined).map(key => [key, given[key]])
      return { ...component, failure: { ...Object.fromEntries(kept), records: fit } }
    }),
  }
}
