import type { SourceKey } from './sources.ts'

/**
 * How well a built-in figure is known: read in a source; computed here from published or open data, with its formula;
 * recalled without the source at hand; or judged.
 */
export type FigureKnown = 'published' | 'derived' | 'recalled' | 'judgement'

/** A number with its basis. */
export interface Stated {
  readonly value: number
  /** 10 % and 90 % points; both null where no range is given. */
  readonly low: number | null
  readonly high: number | null
  readonly source: SourceKey
  readonly known: FigureKnown
  /** One line: its basis and how far to trust it. */
  readonly remark: string
  /** How a derived figure is computed; null for every other grade. */
  readonly formula: string | null
  /** Its weakest point in a few words; null: that of its source. */
  readonly weakest: string | null
}

/** A middle, or a middle with its 10 % and 90 % points. */
export type FigurePoints = number | readonly [value: number, low: number, high: number]

/**
 * A figure without a source.
 *
 * @param points - middle, or middle and range
 * @param remark - its basis
 * @param source - `choice` where it is a choice of this program rather than a guess at a fact
 */
export function judged(points: FigurePoints, remark: string, source: SourceKey = 'judgement'): Stated {
  return { ...pointsOf(points), source, known: 'judgement', remark, formula: null, weakest: null }
}

/**
 * A figure that was read in its source.
 *
 * @param points - middle, or middle and range
 * @param source - where it is published
 * @param remark - what it says
 * @param weakest - weakest point; left out: that of the source
 */
export function published(
  points: FigurePoints,
  source: SourceKey,
  remark: string,
  weakest: string | null = null,
): Stated {
  return { ...pointsOf(points), source, known: 'published', remark, formula: null, weakest }
}

/**
 * A figure computed here from published or open data.
 *
 * @param points - middle, or middle and range
 * @param source - the data
 * @param formula - how it follows from them
 * @param remark - its basis
 * @param weakest - weakest point; left out: that of the source
 */
export function derived(
  points: FigurePoints,
  source: SourceKey,
  formula: string,
  remark: string,
  weakest: string | null = null,
): Stated {
  return { ...pointsOf(points), source, known: 'derived', remark, formula, weakest }
}

/**
 * A figure known from a source that was not at hand.
 *
 * @param points - middle, or middle and range
 * @param source - where it is said to be published
 * @param remark - what it says
 */
export function recalled(points: FigurePoints, source: SourceKey, remark: string): Stated {
  return { ...pointsOf(points), source, known: 'recalled', remark, formula: null, weakest: null }
}

function pointsOf(points: FigurePoints): Pick<Stated, 'value' | 'low' | 'high'> {
  if (typeof points === 'number') return { value: points, low: null, high: null }
  const [value, low, high] = points
  return { value, low, high }
}
