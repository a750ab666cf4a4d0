/**
 * Scenarios as parsed, before they are checked: what a fleet reads of a template.
 */
import type { SourceValue } from '../../input/problems.ts'

/** Values of a file without their places: plain data that a worker can be given. */
export interface PlainSource {
  readonly file: string
  readonly value: unknown
}

/** Whether a parsed value is a block of keys. */
export function isBlock(value: unknown): value is Record<string, unknown> {
  return typeof value === 'object' && value !== null && !Array.isArray(value)
}

/**
 * The options of a scenario.
 *
 * @param value - as parsed
 * @returns those that are blocks of keys
 */
export function optionBlocks(value: unknown): Readonly<Record<string, unknown>>[] {
  const options: unknown = isBlock(value) ? value.options : undefined
  return Array.isArray(options) ? options.filter(isBlock) : []
}

/** A source whose places are not known. */
export function withoutPlaces(source: PlainSource): SourceValue {
  return { ...source, placeOf: () => ({ line: null, column: null }) }
}
