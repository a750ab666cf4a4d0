import * as z from 'zod'
import { flag, number, share, text, wording } from './leaf.ts'
import { type Given, givenMiddle, ranged } from './range.ts'
import { block, type Flaw, yearTable } from './walk.ts'

/** Shape of a Weibull (IEC 61649): under 1 falling, 1 constant, above 1 rising hazard. */
const shape = () => ranged(number({ min: 0.05, max: 10_000 }), 'log')
const life = () => ranged(number({ min: 0, max: 100_000, above: true }, 'years'), 'log')
const openShare = () => ranged(share({ min: 0, max: 1, above: true }), 'logit')

/** The keys that state a life, as written. */
interface GivenLife {
  readonly shape?: Given | undefined
  readonly characteristic_life_years?: Given | undefined
  readonly b10_years?: Given | undefined
  readonly mean_life_years?: Given | undefined
  readonly failed_by?: Readonly<Record<string, Given>> | undefined
  readonly modes?: unknown
  readonly records?: unknown
}

const lifeKeys = {
  shape: shape()
    .optional()
    .meta({ description: '± Weibull shape, 0.05 to 10,000.', phrase: 'how sharply failures set in (shape)' }),
  characteristic_life_years: life()
    .optional()
    .meta({ description: '± Age by which 63.2 % have failed, years.', phrase: 'characteristic life' }),
  b10_years: life()
    .optional()
    .meta({ description: '± Age by which 10 % have failed, years.', phrase: 'age by which 10 % have failed' }),
  mean_life_years: life().optional().meta({ description: '± Mean life, years.', phrase: 'mean life' }),
  failed_by: yearTable(ranged(share({ min: 0, max: 1, above: true }), 'logit'))
    .optional()
    .meta({
      description: '± Share failed by an age, e.g. {10: 12%, 15: 35%}: two points, or one with shape.',
      phrase: 'share failed by an age',
      each: 'share failed by year {place}',
    }),
}

/** One failure mode as written. */
export const modeBlock = block(
  {
    cause: text().meta({ description: 'What fails, in words.', phrase: 'name' }),
    susceptible: openShare().optional().meta({
      description: '± Share of units that can fail by it; default all.',
      phrase: 'share of units that can fail by a cause',
    }),
    ...lifeKeys,
  },
  mode => lifeFlaws(mode, ['characteristic_life_years', 'b10_years', 'mean_life_years', 'failed_by']),
)

const badBatchBlock = block({
  chance: ranged(share(), 'logit')
    .optional()
    .meta({ description: '± Share of product models with a serial defect.', phrase: 'chance of a bad batch' }),
  affects: ranged(share(), 'logit')
    .optional()
    .meta({ description: '± Share of units of a bad batch that carry it.', phrase: 'share of units in a bad batch' }),
  life_times: number({ min: 0, max: 1, above: true }).optional().meta({
    description: 'Life of a unit hit, as a multiple of the ordinary one.',
    phrase: 'life of a unit of a bad batch, times the ordinary',
  }),
})

/** How and when units fail (M1, M4): exactly one form, and with it spread, bad batch and the flag of M2. */
export const failureBlock = block(
  {
    ...lifeKeys,
    modes: z
      .array(modeBlock, { error: wording('a list of 1 to 8 failure modes') })
      .min(1, { error: wording('a list of 1 to 8 failure modes') })
      .max(8, { error: wording('a list of 1 to 8 failure modes') })
      .optional()
      .meta({ description: 'Several failure modes; the earliest one counts.', each: '{phrase}, cause {place}' }),
    records: text().optional().meta({
      description: 'File with a result of `lifetally fit`; a group after #, e.g. fit.json#m1.',
      phrase: 'file with the fitted failures',
    }),
    model_spread: number({ min: 0, max: 2 }).optional().meta({
      description: 'Spread between product models, coefficient of variation; default 0.5, with a range or records 0.',
      phrase: 'how much product models differ',
    }),
    bad_batch: badBatchBlock.optional().describe('A serial defect of the product model.'),
    none_failed_so_far: flag().optional().meta({
      description: 'The survival of these units so far counts as evidence; default false.',
      phrase: 'no unit has failed so far',
    }),
  },
  failure =>
    lifeFlaws(failure, ['characteristic_life_years', 'b10_years', 'mean_life_years', 'failed_by', 'modes', 'records']),
)

/** A failure block as written. */
export type GivenFailure = z.output<typeof failureBlock>

/** A failure mode as written. */
export type GivenMode = z.output<typeof modeBlock>

/** The forms in which a life may be stated. */
type FormKey = 'characteristic_life_years' | 'b10_years' | 'mean_life_years' | 'failed_by' | 'modes' | 'records'

/**
 * The form in which a failure is stated; null where only spread, batch or flag are, or nothing.
 *
 * @param failure - block as written
 */
export function failureForm(failure: GivenFailure | undefined): FormKey | null {
  const forms = ['characteristic_life_years', 'b10_years', 'mean_life_years', 'failed_by', 'modes', 'records'] as const
  return forms.find(form => failure?.[form] !== undefined) ?? null
}

function lifeFlaws(given: GivenLife, forms: readonly FormKey[]): readonly Flaw[] {
  const used = forms.filter(form => given[form] !== undefined)
  const [first, second] = used
  if (first !== undefined && second !== undefined)
    return [{ path: [second], message: `"${second}" and "${first}" both state when units fail; keep one` }]
  const needsOne = forms.length === 4 || given.shape !== undefined
  if (first === undefined)
    return needsOne ? [{ path: [], message: `says no life; give one of ${forms.join(', ')}` }] : []
  if (first === 'modes' || first === 'records')
    return given.shape === undefined
      ? []
      : [{ path: ['shape'], message: `shape is written inside each of "${first}", not next to it` }]
  if (first === 'failed_by') return failedByFlaws(given)
  return given.shape === undefined ? [{ path: [], message: `"${first}" needs "shape" next to it` }] : []
}

function failedByFlaws(given: GivenLife): readonly Flaw[] {
  const points = Object.entries(given.failed_by ?? {}).sort(([a], [b]) => Number(a) - Number(b))
  if (points.length === 0 || points.length > 2)
    return [{ path: ['failed_by'], message: `found ${points.length} points; allowed: two, or one with "shape"` }]
  if (points.length === 1 && given.shape === undefined)
    return [{ path: ['failed_by'], message: 'one point needs "shape" next to it; or give two points' }]
  if (points.length === 2 && given.shape !== undefined)
    return [{ path: ['shape'], message: 'two points already fix the shape; drop "shape" or one point' }]
  const flaws: Flaw[] = []
  for (const [age, given] of points) {
    if (Number(age) === 0)
      flaws.push({ path: ['failed_by', age], message: 'found age 0; allowed: an age above 0 years' })
    if (given === 1) flaws.push({ path: ['failed_by', age], message: 'found 100 %; write 99 %: no life fits 100 %' })
  }
  const [young, old] = points.map(([, value]) => value)
  if (flaws.length > 0 || young === undefined || old === undefined) return flaws
  const bounds = [lowest, (value: Given) => givenMiddle(value, 'logit'), highest]
  if (bounds.every(bound => bound(young) < bound(old))) return []
  const message = 'the share failed must rise with age, at each bound of a range too'
  return [{ path: ['failed_by', points[1]?.[0] ?? ''], message }]
}

function lowest(given: Given): number {
  return typeof given === 'number' ? given : given.low
}

function highest(given: Given): number {
  return typeof given === 'number' ? given : given.high
}
