import { scaleLinear } from 'd3-scale'
import { area, line } from 'd3-shape'
import { bottomAxis, leftAxis } from './axes.ts'
import { badge, type Look } from './look.ts'
import { CHART_WIDTH, chart, element, label, rule, type Words } from './svg.ts'

/** A point; y null: nothing to show there, the line is broken. */
export interface Point {
  readonly x: number
  readonly y: number | null
}

/** A line over time or another quantity. */
export interface Series {
  readonly points: readonly Point[]
  readonly look: Look
  /** What is at its right end: a letter in a disc, or words; null: nothing. */
  readonly end: { readonly letter: string; readonly place: number } | { readonly words: string } | null
}

/** A shaded band between two lines. */
export interface Band {
  readonly points: readonly { readonly x: number; readonly low: number; readonly high: number }[]
  readonly colour: string
}

/** A point that is marked with words. */
export interface Mark {
  readonly x: number
  readonly y: number
  readonly words: string
}

/** What a line chart is drawn from. */
export interface LineChart {
  readonly series: readonly Series[]
  readonly bands?: readonly Band[]
  readonly marks?: readonly Mark[]
  /** A horizontal line across the drawing, with words at its left, or at its right with `atRight`. */
  readonly level?: { readonly y: number; readonly words: string; readonly atRight?: boolean }
  readonly xName: string
  readonly yName: string
  readonly writeX: (value: number) => string
  readonly writeY: (value: number) => string
  /** Lowest and highest value the y axis must show. */
  readonly yMust: readonly [number, number]
  /** Height of the drawing, chart units; default 170. */
  readonly height?: number
}

/**
 * Lines with their names at the right end.
 *
 * @param words - title and description
 * @param data - at least one series with at least one point
 * @returns markup
 */
export function lineChart(words: Words, data: LineChart): string {
  const height = data.height ?? 170
  const wordy = data.series.some(({ end }) => end !== null && 'words' in end && end.words !== '')
  const box = { left: 62, right: CHART_WIDTH - (wordy ? 84 : 30), top: 30, bottom: 30 + height }
  const xs = data.series.flatMap(series => series.points.map(point => point.x))
  const ys = data.series
    .flatMap(series => series.points.flatMap(point => (point.y === null ? [] : [point.y])))
    .concat((data.bands ?? []).flatMap(band => band.points.flatMap(point => [point.low, point.high])))
    .concat(data.level === undefined ? [] : [data.level.y], data.yMust)
  const first = Math.min(...xs)
  const last = Math.max(...xs)
  const x = scaleLinear([first, last > first ? last : first + 1], [box.left, box.right])
  const low = Math.min(...ys)
  const high = Math.max(...ys)
  const y = scaleLinear([low, high > low ? high : low + 1], [box.bottom, box.top]).nice(5)

  const shade = area<Band['points'][number]>()
    .x(point => x(point.x))
    .y0(point => y(point.low))
    .y1(point => y(point.high))
    .digits(1)
  const path = line<Point>()
    .defined(point => point.y !== null)
    .x(point => x(point.x))
    .y(point => y(point.y ?? 0))
    .digits(1)

  const bands = (data.bands ?? []).map(band =>
    element('path', { d: shade([...band.points]) ?? '', class: `band ${band.colour}` }),
  )
  const lines = data.series.map(series =>
    element('path', {
      d: path([...series.points]) ?? '',
      class: `line ${series.look.colour}`,
      'stroke-dasharray': series.look.dash,
    }),
  )
  const level =
    data.level === undefined
      ? ''
      : rule(box.left, y(data.level.y), box.right, y(data.level.y), 'level') +
        label(
          data.level.atRight === true ? box.right - 4 : box.left + 4,
          y(data.level.y) - 5,
          data.level.words,
          data.level.atRight === true ? 'end' : 'start',
          'note',
        )
  const marks = (data.marks ?? []).map(
    mark =>
      element('circle', { cx: x(mark.x), cy: y(mark.y), r: 4.5, class: 'ring' }) +
      label(x(mark.x), y(mark.y) + (y(mark.y) > box.bottom - 30 ? -10 : 20), mark.words, markAnchor(x(mark.x)), 'note'),
  )
  const zero = low < 0 ? rule(box.left, y(0), box.right, y(0), 'axis') : ''
  return chart(
    words,
    box.bottom + 46,
    leftAxis(y, box, data.writeY, data.yName),
    bottomAxis(x, box, data.writeX, data.xName),
    zero,
    ...bands,
    ...lines,
    level,
    ...marks,
    ...ends(data.series, y, box.right),
  )
}

function markAnchor(x: number): 'start' | 'middle' | 'end' {
  if (x < 130) return 'start'
  return x > CHART_WIDTH - 130 ? 'end' : 'middle'
}

/** Names at the right end, pushed apart where lines end close together. */
function ends(series: readonly Series[], y: (value: number) => number, right: number): string[] {
  const wanted = series
    .map(one => ({ end: one.end, at: lastY(one, y) }))
    .filter(
      (entry): entry is { end: NonNullable<Series['end']>; at: number } => entry.end !== null && entry.at !== null,
    )
    .sort((a, b) => a.at - b.at)
  let above = Number.NEGATIVE_INFINITY
  return wanted.map(({ end, at }) => {
    const gap = 'letter' in end ? 19 : 15
    const place = Math.max(at, above + gap)
    above = place
    return 'letter' in end
      ? badge(right + 16, place, end.letter, end.place)
      : label(right + 6, place + 4.5, end.words, 'start', 'note')
  })
}

function lastY(series: Series, y: (value: number) => number): number | null {
  const point = series.points.findLast(candidate => candidate.y !== null)
  return point === undefined || point.y === null ? null : y(point.y)
}
