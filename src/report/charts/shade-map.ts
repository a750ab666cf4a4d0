import { MONTH_NAMES } from '../../units.ts'
import { CHART_WIDTH, chart, element, label, type Words } from './svg.ts'

const ROW = 19
const TOP = 30

/**
 * When shade takes light: months down, hours of solar time across; the area of each square is the share taken, a dot
 * where the sun shines on all of the roof. Colour is not needed to read it.
 *
 * @param words - title and description
 * @param map - twelve rows of 24 shares, [0, 1]; null in the dark
 * @returns markup
 */
export function shadeMapChart(words: Words, map: readonly (readonly (number | null)[])[]): string {
  const lit = map.flatMap(row => row.flatMap((share, hour) => (share === null ? [] : [hour])))
  const first = Math.min(...lit)
  const last = Math.max(...lit)
  const left = 46
  const width = (CHART_WIDTH - left - 8) / (last - first + 1)
  const largest = Math.min(width, ROW) - 2
  const centre = (hour: number): number => left + (hour - first + 0.5) * width
  const cells = map.flatMap((row, month) =>
    row.map((share, hour) => {
      if (share === null) return ''
      const x = centre(hour)
      const y = TOP + (month + 0.5) * ROW
      if (share < 0.005) return element('circle', { cx: x, cy: y, r: 1.6, class: 'dot' })
      const side = largest * Math.sqrt(share)
      return element('rect', { x: x - side / 2, y: y - side / 2, width: side, height: side, class: 'dot' })
    }),
  )
  const months = map.map((_, month) =>
    label(left - 8, TOP + (month + 0.5) * ROW + 4.5, (MONTH_NAMES[month] ?? '').slice(0, 3), 'end', 'tick'),
  )
  const hours = Array.from({ length: last - first + 1 }, (_, i) => first + i)
    .filter(hour => hour % 3 === 0)
    .map(hour => label(left + (hour - first) * width, TOP + 12 * ROW + 16, String(hour), 'middle', 'tick'))
  return chart(
    words,
    TOP + 12 * ROW + 40,
    ...months,
    ...cells,
    ...hours,
    label((left + CHART_WIDTH) / 2, TOP + 12 * ROW + 34, 'hour of the day, sun time', 'middle', 'axis-name'),
  )
}
