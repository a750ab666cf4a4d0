import { InputError, type Problem } from '../../errors.ts'
import { readScenario } from '../../scenario/read-scenario.ts'
import type { FleetSource } from './fleet-file.ts'

/**
 * The error of a fleet of which no site could be read: the first reason, and where it is the template's own fault, its
 * lines.
 *
 * @param source - of the fleet
 * @param reason - why the first site was left out; '' where there is none
 */
export function nothingToPlay(source: FleetSource, reason: string): InputError {
  const file = source.form === 'table' ? source.sites : source.file
  const message = `no site can be played; the first reason is: ${reason || 'there are no sites'}`
  return new InputError([{ file, line: null, column: null, key: '', message }, ...ofTemplate(source, reason)])
}

/** What is wrong with the template by itself and named in the reason; what columns fill may be missing there. */
function ofTemplate(source: FleetSource, reason: string): readonly Problem[] {
  if (source.form !== 'table') return []
  const [, text = ''] = source.texts
  try {
    readScenario(text, source.template.file, source.baseFolder)
    return []
  } catch (error) {
    if (!(error instanceof InputError)) throw error
    return error.problems.filter(problem => reason.includes(problem.message.replace(/\s+/g, ' ')))
  }
}
