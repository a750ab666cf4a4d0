import * as z from 'zod'
import { middleOf, type SpreadScale } from '../../numerics/distributions/two-piece.ts'
import { isRange, text } from './leaf.ts'
import { block, choice, type Flaw } from './walk.ts'

/** A range as written (U1a): 10 %, 50 % and 90 % points; `value` left out is the middle of the scale. */
export interface GivenRange {
  readonly value?: number | undefined
  readonly low: number
  readonly high: number
  readonly name?: string | undefined
}

/** A value as written where a range is allowed. */
export type Given = number | GivenRange

/**
 * A key that takes a number or a range (±, U1a).
 *
 * @param leaf - the number by itself; a fresh schema for each use
 * @param scale - scale on which the range is spread: shares on logits, growths linear, all else logarithmic
 * @returns schema of a number, or of `{low, high}`, `{value, low, high}` with an optional `name`
 */
export function ranged(leaf: z.ZodType<number>, scale: SpreadScale) {
  const range = block(
    {
      value: leaf.optional().describe('Middle (50 % point); left out: the middle of the scale.'),
      low: leaf.describe('10 % point.'),
      high: leaf.describe('90 % point.'),
      name: text().optional().describe('Ranges of one name move together.'),
    },
    value => rangeFlaws(value, scale),
  )
  return choice([leaf, range], raw => (isRange(raw) ? 1 : 0))
}

/** Names under which the program keeps its own unknowns. */
const RESERVED = /^(evidence|model_spread|provider|model) |^tier_effect$|^(site|visit)\.| \/ /

function rangeFlaws(range: GivenRange, scale: SpreadScale): readonly Flaw[] {
  const flaws: Flaw[] = []
  for (const key of ['low', 'value', 'high'] as const) {
    const bound = range[key]
    if (bound === undefined) continue
    if (scale === 'log' && bound <= 0)
      flaws.push({ path: [key], message: 'found 0; a bound of a range must be above 0; write a small number' })
    if (scale === 'logit' && (bound <= 0 || bound >= 1))
      flaws.push({
        path: [key],
        message: `found ${bound <= 0 ? '0 %' : '100 %'}; a bound of a range of shares must lie between; write 1 % or 99 %`,
      })
  }
  if (range.name !== undefined && RESERVED.test(range.name))
    flaws.push({ path: ['name'], message: `the name "${range.name}" is one the program uses itself; choose another` })
  if (flaws.length > 0) return flaws
  if (range.low >= range.high)
    return [{ path: [], message: `low (${range.low}) must be less than high (${range.high})` }]
  if (range.value !== undefined && (range.value <= range.low || range.value >= range.high))
    return [
      {
        path: ['value'],
        message: `value (${range.value}) must lie between low (${range.low}) and high (${range.high})`,
      },
    ]
  return []
}

/**
 * The middle of a value as written: the number, `value`, or the middle of the scale (U1a).
 *
 * @param given - number or range
 * @param scale - scale of the range
 */
export function givenMiddle(given: Given, scale: SpreadScale): number {
  if (typeof given === 'number') return given
  return given.value ?? middleOf(scale, given.low, given.high)
}

/** The schema of twelve values from January, or of the one form given. */
export function twelveOr<One extends z.ZodType, Leaf extends z.ZodType>(one: One, leaf: Leaf) {
  return choice([one, twelve(leaf)], raw => (Array.isArray(raw) ? 1 : 0))
}

/** Twelve values, January first. */
export function twelve<Leaf extends z.ZodType>(leaf: Leaf) {
  const error = (issue: { readonly input?: unknown }) =>
    issue.input === undefined
      ? 'missing; needed: twelve values, January first, e.g. [250, 360, …]'
      : `found ${Array.isArray(issue.input) ? `${issue.input.length} values` : 'no list'}; allowed: twelve values, January first, e.g. [250, 360, …]`
  return z.array(leaf, { error }).length(12, { error })
}
