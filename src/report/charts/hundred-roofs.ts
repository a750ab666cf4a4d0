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
const ROW = 40
const HIGH = 16
/** Height of a roof by its visits, so that colour is not needed. */
const HEIGHTS = { none: 3, one: 9, more: HIGH } as const
/** Share of its place that a roof fills. */
const FILLED = 0.74

/**
 * A hundred roofs in a row for each option, those that pay for no visit first: what a hundred owners live through.
 *
 * @param words - title and description
 * @param strips - at least one; each adds up to 100
 * @returns markup
 */
export function hundredRoofs(words: Words, strips: readonly RoofStrip[]): string {
  const step = (RIGHT - LEFT) / 100
  const rows = strips.map((strip, row) => {
    const top = 6 + row * ROW
    const roofs = Array.from({ length: 100 }, (_, i) => roof(LEFT + i * step, top, step * FILLED, kindOf(strip, i)))
    const counts = [
      { from: 0, count: strip.none },
      { from: strip.none, count: strip.one },
      { from: strip.none + strip.one, count: strip.more },
    ]
      // a number needs the room of about five roofs
      .filter(({ count }) => count >= 5)
      .map(({ from, count }) => label(LEFT + (from + count / 2) * step, top + HIGH + 14, `${count}`, 'middle', 'note'))
    return badge(11, top + HIGH / 2, strip.letter, strip.place) + roofs.join('') + counts.join('')
  })
  return chart(words, strips.length * ROW + 8, ...rows)
}

/**
 * The drawing of a roof that pays for no visit, one, or more: a stub, half as high, full.
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
