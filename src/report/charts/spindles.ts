import { scaleLinear } from 'd3-scale'
import { bottomAxis } from './axes.ts'
import { badge, optionLook } from './look.ts'
import { CHART_WIDTH, chart, coordinate, element, type Words } from './svg.ts'

/** The spread of one option's lifetimes. */
export interface Spindle {
  readonly letter: string
  readonly place: number
  readonly p5: number
  readonly p10: number
  readonly p50: number
  readonly p90: number
  readonly p95: number
  readonly mean: number
  readonly worstTenthMean: number
}

/**
 * One spindle for each option: thickest at the middle lifetime, thin at the 5 % and 95 % points. A line marks the middle
 * lifetime, a dot the mean, a ring the mean of the dearest tenth.
 *
 * @param words - title and description
 * @param spindles - at least one
 * @param axisName - what the axis shows, with its unit
 * @param write - a tick value as text
 * @returns markup
 */
export function spindleChart(
  words: Words,
  spindles: readonly Spindle[],
  axisName: string,
  write: (value: number) => string,
): string {
  const rowHeight = 46
  const box = { left: 34, right: CHART_WIDTH - 24, top: 4, bottom: 8 + spindles.length * rowHeight }
  const low = Math.min(...spindles.map(one => one.p5))
  const high = Math.max(...spindles.map(one => Math.max(one.p95, one.worstTenthMean)))
  const x = scaleLinear([low, high > low ? high : low + 1], [box.left, box.right]).nice(5)
  const rows = spindles.map((one, row) => {
    const y = box.top + (row + 0.5) * rowHeight + 2
    return badge(11, y, one.letter, one.place) + spindle(one, y, x)
  })
  return chart(words, box.bottom + 46, bottomAxis(x, box, write, axisName, 4), ...rows)
}

function spindle(one: Spindle, y: number, x: (value: number) => number): string {
  const { colour, dash } = optionLook(one.place)
  const half: readonly (readonly [number, number])[] = [
    [one.p5, 1.5],
    [one.p10, 6],
    [one.p50, 13],
    [one.p90, 6],
    [one.p95, 1.5],
  ]
  const upper = half.map(([value, height]) => `${coordinate(x(value))} ${coordinate(y - height)}`)
  const lower = half.map(([value, height]) => `${coordinate(x(value))} ${coordinate(y + height)}`).reverse()
  return (
    element('path', {
      d: `M${[...upper, ...lower].join('L')}Z`,
      class: `leaf ${colour}`,
      'stroke-dasharray': dash,
    }) +
    element('path', { d: `M${coordinate(x(one.p50))} ${coordinate(y - 15)}v30`, class: 'mark' }) +
    element('circle', { cx: x(one.mean), cy: y, r: 4, class: 'dot' }) +
    element('circle', { cx: x(one.worstTenthMean), cy: y, r: 4.5, class: 'ring' })
  )
}
