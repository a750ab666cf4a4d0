import { scaleBand, scaleLinear } from 'd3-scale'
import { stack } from 'd3-shape'
import { MONTH_NAMES } from '../../units.ts'
import { leftAxis } from './axes.ts'
import { fills } from './look.ts'
import { CHART_WIDTH, chart, element, label, rule, type Words } from './svg.ts'

/**
 * A year as twelve columns, each cut into what is delivered and what is lost to each cause.
 *
 * @param words - title and description
 * @param parts - one list of twelve values a part, kWh, January first; the lowest part first
 * @param highest - top of the axis, kWh, so that two charts have the same scale
 * @param write - a tick value as text
 * @returns markup
 */
export function energyByMonth(
  words: Words,
  parts: readonly (readonly number[])[],
  highest: number,
  write: (value: number) => string,
): string {
  const box = { left: 62, right: CHART_WIDTH - 8, top: 30, bottom: 220 }
  const months = MONTH_NAMES.map((_, month) => month)
  const x = scaleBand<number>(months, [box.left, box.right]).padding(0.2)
  const y = scaleLinear([0, Math.max(highest, 1)], [box.bottom, box.top]).nice(5)
  const layers = stack<number, number>()
    .keys(parts.map((_, part) => part))
    .value((month, part) => parts[part]?.[month] ?? 0)(months)
  const columns = layers.map((layer, part) =>
    layer
      .map(([from, to], month) =>
        y(from) - y(to) < 0.05
          ? ''
          : element('rect', {
              x: x(month) ?? 0,
              y: y(to),
              width: x.bandwidth(),
              height: y(from) - y(to),
              class: 'slice',
              fill: `url(#${words.id}-f${part})`,
            }),
      )
      .join(''),
  )
  const names = months.map(month =>
    label(
      (x(month) ?? 0) + x.bandwidth() / 2,
      box.bottom + 18,
      (MONTH_NAMES[month] ?? '').slice(0, 3),
      'middle',
      'tick',
    ),
  )
  return chart(
    words,
    box.bottom + 28,
    fills(words.id),
    leftAxis(y, box, write, 'kWh a month'),
    ...columns,
    rule(box.left, box.bottom, box.right, box.bottom, 'axis'),
    ...names,
  )
}
