import { badge } from './look.ts'
import { chart, element, label, type Words } from './svg.ts'

/** One option: its letter and look, and how many of a hundred roofs pay for no visit, one, and more. */
export interface RoofStrip {
  readonly letter: string
  readonly place: number
  readonly none: number
  readonly one: number
  readonly more: number
}

const LEFT = 28
const RIGHT = 456
const HIGH = 16
/** Heights of a row of roofs and of the line of words under it, chart units. */
const ROW = 21
const WORDS = 22
/** Options up to which a hundred roofs are drawn in two rows, so that each can be seen; ours. */
const MOST_IN_TWO_ROWS = 4
/** Height of a roof by its visits, so that colour is not needed. */
const HEIGHTS = { none: 3, one: 9, more: HIGH } as const
/** Width of a roof as a share of the step to the next. */
const FILLED = 0.74

/**
 * A hundred roofs in rows for each option, those that pay for no visit first; the counts are written under them.
 *
 * @param words - title and description
 * @param strips - at least one; each adds up to 100
 * @returns markup
 */
export function hundredRoofs(words: Words, strips: readonly RoofStrip[]): string {
  const nRows = strips.length <= MOST_IN_TWO_ROWS ? 2 : 1
  const inRow = 100 / nRows
  const step = (RIGHT - LEFT) / inRow
  const high = nRows * ROW + WORDS
  const drawn = strips.map((strip, place) => {
    const top = 4 + place * high
    const roofs = Array.from({ length: 100 }, (_, i) =>
      roof(LEFT + (i % inRow) * step, top + Math.floor(i / inRow) * ROW, step * FILLED, kindOf(strip, i)),
    )
    const counts = `${strip.none} none, ${strip.one} one, ${strip.more} two or more`
    return (
      badge(11, top + (nRows * ROW) / 2 - 2, strip.letter, strip.place) +
      roofs.join('') +
      label(LEFT, top + nRows * ROW + 10, counts, 'start', 'note')
    )
  })
  return chart(words, strips.length * high + 4, ...drawn)
}

/**
 * A bar for one roof; its height says whether the roof pays for no visit, one, or more.
 *
 * @param x - left
 * @param y - top
 * @param width - in chart units
 * @param kind - how many visits
 * @returns markup
 */
export function roof(x: number, y: number, width: number, kind: 'none' | 'one' | 'more'): string {
  const height = HEIGHTS[kind]
  return element('rect', { x, y: y + HIGH - height, width, height, class: kind === 'none' ? 'roof' : 'dot' })
}

function kindOf(strip: RoofStrip, i: number): 'none' | 'one' | 'more' {
  if (i < strip.none) return 'none'
  return i < strip.none + strip.one ? 'one' : 'more'
}
