import * as z from 'zod'
import { InputError } from '../../errors.ts'
import { nearest } from '../../input/problems.ts'
import { DAYS_PER_YEAR, HOURS_PER_YEAR, MONTHS_PER_YEAR } from '../../units.ts'
import type { FittedFailure } from '../model/failure.ts'
import { number, oneOf, whole, wording } from '../schema/leaf.ts'

/** What a scenario takes over from a fit; the unknown that picks a draw is added by the reader of the scenario. */
export type FittedRecords = Pick<FittedFailure, 'draws' | 'said'>

const UNITS_PER_YEAR = { hours: HOURS_PER_YEAR, days: DAYS_PER_YEAR, months: MONTHS_PER_YEAR, years: 1 }

/** Bounds of what `fit` may write: shapes as a scenario takes them (M1), lives as far as draws reach. */
const shape = number({ min: 0.05, max: 10_000 })
const life = number({ min: 1e-20, max: 1e25 })
const susceptible = number({ min: 0, above: true, max: 1 })

const word = z.string({ error: wording('a text') })

const mode = z.object({ cause: word, shape, characteristicLife: life, susceptible })

const fitFile = z.object({
  ageUnit: oneOf(['hours', 'days', 'months', 'years']),
  groups: z.array(
    z.object({
      name: word,
      units: whole(0, 1e9),
      failed: whole(0, 1e9),
      best: word.nullable(),
      models: z.array(
        z.object({ name: word, modes: z.array(mode).min(1, 'found no failure mode; a model has one or more') }),
      ),
      draws: z
        .object({
          causes: z.array(word).min(1, 'found no cause; there is one a failure mode'),
          values: z.array(z.array(z.tuple([shape, life, susceptible]))).min(1, 'found no sets of figures'),
        })
        .refine(({ causes, values }) => values.every(set => set.length === causes.length), {
          error: 'each set of figures needs one triple a cause',
          path: ['values'],
        })
        .nullable(),
    }),
  ),
})

/**
 * Splits what `failure.records` names into the file and, behind `#`, the group.
 *
 * @param text - as written, e.g. `fit.json` or `fit.json#m1`
 * @returns group null where none is named
 * @example splitRecords('fit.json#m1') // { file: 'fit.json', group: 'm1' }
 */
export function splitRecords(text: string): { file: string; group: string | null } {
  const at = text.indexOf('#')
  return at < 0 ? { file: text, group: null } : { file: text.slice(0, at), group: text.slice(at + 1) }
}

/**
 * Takes a failure model with its whole joint uncertainty out of a fit.json (U1).
 *
 * @param text - content of the file
 * @param file - as the user named it, for messages
 * @param group - the group; null: the only one that could be fitted
 * @returns draws in years, the best estimate first and then equally likely sets in rising order of mean life; a sentence
 *   for the report
 * @throws InputError where the file is no fit, or the group is not in it, is not named, or could not be fitted
 */
export function readFittedRecords(text: string, file: string, group: string | null = null): FittedRecords {
  const fit = parseFit(text, file)
  const names = fit.groups.map(one => one.name)
  const fitted = fit.groups.filter(one => one.best !== null)
  const only = fitted.length === 1 ? fitted[0] : undefined
  const found = group === null ? only : fit.groups.find(one => one.name === group)
  if (found === undefined) {
    if (group === null) {
      const example = `${file}#${fitted[0]?.name ?? names[0] ?? ''}`
      throw refuse(
        file,
        `holds ${fitted.length} fitted groups (${names.join(', ')}); name one, e.g. records: "${example}"`,
      )
    }
    const guess = nearest(group, names)
    const hint = guess === null ? `it has ${names.join(', ')}` : `did you mean "${guess}"?`
    throw refuse(file, `has no group "${group}"; ${hint}`)
  }
  const best = found.models.find(model => model.name === found.best)
  if (best === undefined || found.draws === null) {
    throw refuse(file, `group "${found.name}" could not be fitted; give its failure figures in the scenario`)
  }
  const perYear = UNITS_PER_YEAR[fit.ageUnit]
  const { causes, values } = found.draws
  const estimate = best.modes.map(one => ({
    cause: one.cause,
    susceptible: one.susceptible,
    shape: one.shape,
    lifeYears: one.characteristicLife / perYear,
  }))
  const draws = values.map(set =>
    set.map(([shape, life, susceptible], index) => ({
      cause: causes[index] ?? '',
      susceptible,
      shape,
      lifeYears: life / perYear,
    })),
  )
  const failures = found.failed === 1 ? 'failure' : 'failures'
  const units = found.units === 1 ? 'unit' : 'units'
  return {
    draws: [estimate, ...draws],
    said: `your records: ${found.failed} ${failures} among ${found.units} ${units}`,
  }
}

function parseFit(text: string, file: string): z.output<typeof fitFile> {
  let content: unknown
  try {
    content = JSON.parse(text)
  } catch (cause) {
    throw refuse(file, 'is not JSON; name the fit.json that `lifetally fit` wrote', cause)
  }
  const parsed = fitFile.safeParse(content)
  if (parsed.success) return parsed.data
  const [issue] = parsed.error.issues
  const where = issue === undefined || issue.path.length === 0 ? '' : ` (${issue.path.join('.')}: ${issue.message})`
  throw refuse(file, `is no result of \`lifetally fit\`${where}; make it anew`)
}

function refuse(file: string, message: string, cause?: unknown): InputError {
  return new InputError([{ file, line: null, column: null, key: '', message: `the file ${message}` }], { cause })
}
