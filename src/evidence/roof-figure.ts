import type { EvidenceFigure } from './figure.ts'
import type { SourceKey } from './sources.ts'
import type { FigureKnown } from './stated.ts'

/**
 * One figure of the chain from roof to energy.
 *
 * @param key - without `roof.`
 * @param phrase - what the report calls it
 * @param points - value, and low and high where it is a range
 * @param unit - in words
 * @param source - where it comes from
 * @param known - its grade
 * @param remark - what it is, in a sentence
 */
export function roofFigure(
  key: string,
  phrase: string,
  points: readonly [number, number?, number?],
  unit: string,
  source: SourceKey,
  known: FigureKnown,
  remark: string,
): EvidenceFigure {
  const [value, low, high] = points
  const stated = { value, low: low ?? null, high: high ?? null, source, known, remark, formula: null, weakest: null }
  return { row: 'common', key: `roof.${key}`, unit, phrase, ...stated }
}
