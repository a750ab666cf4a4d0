import { scaleLinear } from 'd3-scale'
import { bottomAxis } from './axes.ts'
import { CHART_WIDTH, chart, element, label, rule, type Words } from './svg.ts'

/** One horizontal line from low to high with marks on it. */
export interface Interval {
  /** Words above the line. */
  readonly words: string
  readonly low: number
  readonly high: number
  /** A filled dot; null: none. */
  readonly dot: number | null
  /** A ring: the same with another assumption; null: none. */
  readonly ring: number | null
}

/** What a chart of intervals is drawn from. */
export interface IntervalChart {
  readonly intervals: readonly Interval[]
  readonly axisName: string
  readonly write: (value: number) => string
  /** Words left and right of zero. */
  readonly below: string
  readonly above: string
}

/**
 * Intervals under one another around a line at zero.
 *
 * @param words - title and description
 * @param data - at least one interval
 * @returns markup
 */
export function intervalChart(words: Words, data: IntervalChart): string {
  const rowHeight = data.intervals.some(({ words }) => inLines(words).length > 1) ? 54 : 38
  const box = { left: 24, right: CHART_WIDTH - 24, top: 24, bottom: 30 + data.intervals.length * rowHeight }
  const ends = data.intervals.flatMap(one => [one.low, one.high, one.dot ?? 0, one.ring ?? 0]).concat(0)
  const low = Math.min(...ends)
  const high = Math.max(...ends)
  const x = scaleLinear([low, high > low ? high : low + 1], [box.left, box.right]).nice(4)
  const zero = x(0)
  const rows = data.intervals.map((one, row) => {
    const y = box.top + row * rowHeight + rowHeight - 8
    const lines = inLines(one.words)
    const ring = one.ring === null ? '' : element('circle', { cx: x(one.ring), cy: y, r: 6, class: 'ring' })
    const dot = one.dot === null ? '' : element('circle', { cx: x(one.dot), cy: y, r: 4, class: 'dot' })
    return (
      lines.map((line, i) => label(4, y - 12 - 16 * (lines.length - 1 - i), line, 'start', 'note')).join('') +
      rule(zero, y - 8, zero, y + 8, 'zero') +
      rule(x(one.low), y, x(one.high), y, 'span') +
      rule(x(one.low), y - 5, x(one.low), y + 5, 'mark') +
      rule(x(one.high), y - 5, x(one.high), y + 5, 'mark') +
      ring +
      dot
    )
  })
  return chart(
    words,
    box.bottom + 46,
    bottomAxis(x, box, data.write, data.axisName, 4),
    rule(zero, box.top - 8, zero, box.top + 2, 'zero'),
    rule(zero, box.bottom - 8, zero, box.bottom, 'zero'),
    zero - box.left > 140 ? label(zero - 6, 12, `\u2190 ${data.below}`, 'end', 'note') : '',
    box.right - zero > 140 ? label(zero + 6, 12, `${data.above} \u2192`, 'start', 'note') : '',
    ...rows,
  )
}

/** Most characters in a line of words. */
const LINE = 54

/** Words in one line or two, broken between words; what is longer still is cut. */
function inLines(text: string): string[] {
  if (text.length <= LINE) return [text]
  const at = text.lastIndexOf(' ', LINE)
  const first = text.slice(0, at > 0 ? at : LINE)
  const rest = [...text.slice(first.length).trim()]
  return [first, rest.length > LINE ? `${rest.slice(0, LINE - 1).join('')}\u2026` : rest.join('')]
}
