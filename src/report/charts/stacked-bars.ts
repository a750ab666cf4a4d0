import { scaleBand, scaleLinear } from 'd3-scale'
import { stack } from 'd3-shape'
import { sumOf } from '../../numerics/sum.ts'
import { bottomAxis } from './axes.ts'
import { badge, fills } from './look.ts'
import { CHART_WIDTH, chart, element, label, type Words } from './svg.ts'

/** One bar: parts are stacked from the left. */
export interface StackedBar {
  readonly letter: string
  readonly place: number
  /** Not below 0; the same number of parts in every bar, at most seven. */
  readonly parts: readonly number[]
  /** Where the net total lies; drawn as a tick. Where it is less than the parts, an arrow leads back to it. */
  readonly total: number
  /** The total as text. */
  readonly said: string
}

/**
 * Horizontal bars with their parts, one for each option.
 *
 * @param words - title and description
 * @param bars - at least one
 * @param axisName - what the length is, with its unit
 * @param write - a tick value as text
 * @returns markup
 */
export function stackedBars(
  words: Words,
  bars: readonly StackedBar[],
  axisName: string,
  write: (value: number) => string,
): string {
  const rowHeight = 40
  const box = { left: 28, right: CHART_WIDTH - 74, top: 4, bottom: 8 + bars.length * rowHeight }
  const longest = Math.max(...bars.map(bar => Math.max(bar.total, sumOf(bar.parts))), 1e-9)
  const x = scaleLinear([Math.min(0, ...bars.map(({ total }) => total)), longest], [box.left, box.right])
  const y = scaleBand(
    bars.map((_, index) => String(index)),
    [box.top, box.bottom],
  ).padding(0.25)
  const nParts = Math.max(...bars.map(bar => bar.parts.length))
  const layers = stack<unknown, StackedBar, number>()
    .keys([...Array(nParts).keys()])
    .value((bar, part) => bar.parts[part] ?? 0)([...bars])
  const drawn = layers.map((layer, part) =>
    layer
      .map(([from, to], index) => {
        if (x(to) - x(from) < 0.05) return ''
        return element('rect', {
          x: x(from),
          y: y(String(index)) ?? 0,
          width: x(to) - x(from),
          height: y.bandwidth(),
          class: 'slice',
          fill: `url(#${words.id}-f${part})`,
        })
      })
      .join(''),
  )
  const ends = bars.map((bar, index) => {
    const middle = (y(String(index)) ?? 0) + y.bandwidth() / 2
    const end = x(Math.max(bar.total, sumOf(bar.parts)))
    return (
      badge(11, middle, bar.letter, bar.place) +
      element('path', {
        d: `M${x(bar.total).toFixed(1)} ${(middle - y.bandwidth() / 2 - 3).toFixed(1)}V${(middle + y.bandwidth() / 2 + 3).toFixed(1)}`,
        class: 'mark',
      }) +
      takenOff(x(bar.total), x(sumOf(bar.parts)), middle) +
      label(end + 6, middle + 5, bar.said, 'start', 'value')
    )
  })
  return chart(words, box.bottom + 46, fills(words.id), bottomAxis(x, box, write, axisName, 4), ...drawn, ...ends)
}

/** Shortest arrow that is drawn, chart units; a smaller gap between parts and total is rounding. */
const SHORTEST_ARROW = 3

/** An arrow from the end of the parts back to the total; empty where nothing is taken off. */
function takenOff(to: number, from: number, y: number): string {
  return from - to < SHORTEST_ARROW ? '' : arrowBack(from, to, y)
}

/**
 * An arrow to the left, for what is taken off a bar.
 *
 * @param from - where it begins
 * @param to - where its head is, left of `from`
 * @param y - height
 * @returns markup
 */
export function arrowBack(from: number, to: number, y: number): string {
  const head = Math.min(6, from - to)
  const d = `M${from.toFixed(1)} ${y.toFixed(1)}H${to.toFixed(1)}m${head} -4l${-head} 4l${head} 4`
  return element('path', { d, class: 'halo', fill: 'none' }) + element('path', { d, class: 'mark' })
}
