import type { OptimiserFindings } from '../../../energy/optimiser-findings.ts'
import { sumOf } from '../../../numerics/sum.ts'
import { MONTH_NAMES } from '../../../units.ts'
import { markKey } from '../../charts/look.ts'
import { shadeMapChart } from '../../charts/shade-map.ts'
import { element } from '../../charts/svg.ts'
import { type Finding, finding, type Table, table } from '../../content.ts'
import { formatNumber } from '../../format/number.ts'
import { formatEnergy } from '../../format/quantity.ts'
import { formatShare } from '../../format/share.ts'
import { joinWords } from '../../names.ts'
import { howKnown } from '../margin.ts'
import type { View } from '../view.ts'

/**
 * What shade takes and when, what optimisers on some panels win back, and what would happen if the shade moved (E4, E6).
 *
 * @param view - prepared results
 * @returns the finding; null where no shade is given
 */
export function roofShade(view: View): Finding | null {
  const { roof } = view.results
  if (roof === null || roof.shadeMap === null) return null
  const selective = roof.options.flatMap(one =>
    one.optimisers === null ? [] : [{ name: view.name(one.option), letter: one.option, found: one.optimisers }],
  )
  return finding({
    id: 'roof-shade',
    topic: 'What shade takes, and what wins it back',
    sentence: sentence(view),
    paragraphs: [
      'Gains of tracking each panel come from uneven light. A hill or a wall that shades all panels at once gives almost nothing back. Every string is taken to run at its best point; a real tracker can miss it.',
      ...selective.map(({ name, found }) => choice(view, name, found)),
    ],
    figures: roof.shadeInWords
      ? []
      : [
          {
            heading: 'Share of the light that shade takes, by month and hour',
            key: [
              markKey(element('rect', { x: 9, y: 3, width: 14, height: 14, class: 'dot' }), 'all of it'),
              markKey(element('rect', { x: 12.5, y: 6.5, width: 7, height: 7, class: 'dot' }), 'a quarter of it'),
              markKey(element('circle', { cx: 16, cy: 10, r: 1.6, class: 'dot' }), 'sun on all of the roof'),
            ],
            svg: shadeMapChart(
              { id: 'roof-shade', title: 'Light taken by shade, by month and hour', description: worst(view) },
              roof.shadeMap,
            ),
          },
        ],
    tables: [
      ...selective.map(({ name, found }) => choiceTable(view, name, found)),
      ...(roof.shadeInWords ? [] : [monthTable(view)]),
    ],
    margin: howKnown(view, ['energy']),
  })
}

function sentence(view: View): string {
  const lost = (view.results.roof?.options ?? []).map(one => ({
    name: view.name(one.option),
    share: shareLost(one.yearByMonth.shadeAndMismatchKwh, one.yearByMonth.idealKwh),
  }))
  const most = lost.reduce((a, b) => (b.share > a.share ? b : a), { name: '', share: -1 })
  const least = lost.reduce((a, b) => (b.share < a.share ? b : a), { name: '', share: 2 })
  const first = `Shade and mismatch take ${formatShare(most.share, view.locale)} of what the panels could give with ${most.name}`
  return least.name === most.name
    ? `${first}.`
    : `${first} and ${formatShare(least.share, view.locale)} with ${least.name}.`
}

function choice(view: View, name: string, found: OptimiserFindings): string {
  const where = joinWords(found.fitted.map(({ array, panels }) => `${panels} on ${array}`))
  const gain = found.asFittedKwh - found.noneInsteadKwh
  const all = found.allInsteadKwh - found.asFittedKwh
  const moved = found.shadeMovedKwh - found.asFittedKwh
  return (
    `${name} has optimisers on ${where}. In a year they give ${compared(view, gain, 'none would')}. ` +
    `Optimisers on all panels would give ${compared(view, all, 'these')}. ` +
    `If the shade moved to panels without one, as when a tree grows or a neighbour builds, the roof would give ${compared(view, moved, 'now')}; with optimisers on all panels it would then give ${compared(view, found.shadeMovedAllInsteadKwh - found.asFittedKwh, 'now')}.`
  )
}

function choiceTable(view: View, name: string, found: OptimiserFindings): Table {
  const row = (words: string, kwh: number): string[] => [
    words,
    formatNumber(kwh, 1, view.locale),
    formatNumber(kwh - found.asFittedKwh, 1, view.locale),
  ]
  return table(
    `Delivered in the first year, ${name}, kWh`,
    ['Optimisers', '#kWh', '#Against as fitted'],
    [
      row('As fitted', found.asFittedKwh),
      row('On all panels', found.allInsteadKwh),
      row('On none', found.noneInsteadKwh),
      row('As fitted, the shade moved', found.shadeMovedKwh),
      row('On all panels, the shade moved', found.shadeMovedAllInsteadKwh),
    ],
  )
}

/** The map in figures: of each month the hour that loses most. */
function monthTable(view: View): Table {
  const rows = (view.results.roof?.shadeMap ?? []).map((shares, month) => {
    const most = shares.reduce<number>((high, share) => Math.max(high, share ?? 0), 0)
    const hour = shares.indexOf(most)
    const shaded = shares.filter(share => share !== null && share >= 0.005).length
    return [
      MONTH_NAMES[month] ?? '',
      String(shaded),
      most < 0.005 ? 'none' : `${hour} to ${hour + 1} h`,
      formatShare(most, view.locale),
    ]
  })
  return table('Shade by month', ['Month', '#Hours of the day with shade', 'Worst hour', '#Light taken then'], rows)
}

function compared(view: View, kwh: number, other: string): string {
  if (Math.abs(kwh) < 0.5) return `as much as ${other}`
  return `${formatEnergy(Math.abs(kwh), null, view.locale)} ${kwh > 0 ? 'more' : 'less'} than ${other}`
}

function worst(view: View): string {
  let most = { share: 0, month: 0, hour: 0 }
  view.results.roof?.shadeMap?.forEach((row, month) => {
    row.forEach((share, hour) => {
      if (share !== null && share > most.share) most = { share, month, hour }
    })
  })
  return `At most ${formatShare(most.share, view.locale)} of the light, in month ${most.month + 1} from ${most.hour} to ${most.hour + 1} h.`
}

function shareLost(part: readonly number[], whole: readonly number[]): number {
  const all = sumOf(whole)
  return all > 0 ? sumOf(part) / all : 0
}
