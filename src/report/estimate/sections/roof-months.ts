import type { OptionResult } from '../../../analysis/results/option.ts'
import type { OptionRoofFindings } from '../../../energy/roof-findings.ts'
import { sumOf } from '../../../numerics/sum.ts'
import { energyByMonth } from '../../charts/energy-by-month.ts'
import { fillKey } from '../../charts/look.ts'
import { type Finding, finding, type Picture, type Table, table } from '../../content.ts'
import { formatInputRange } from '../../format/input.ts'
import { formatNumber } from '../../format/number.ts'
import { formatEnergy } from '../../format/quantity.ts'
import { formatShare } from '../../format/share.ts'
import { joinWords } from '../../names.ts'
import { howKnown } from '../margin.ts'
import { roofKnown } from '../roof-known.ts'
import type { View } from '../view.ts'

const PARTS = [
  ['Delivered', 'deliveredKwh'],
  ['Shade and mismatch', 'shadeAndMismatchKwh'],
  ['Conversion', 'conversionKwh'],
  ['Clipping', 'clippingKwh'],
  ['Export limit', 'exportLimitKwh'],
] as const

/**
 * What the roof gives in its first year, by month and cause, played from its arrays (E1–E5).
 *
 * @param view - prepared results
 * @returns the finding; null unless the energy is stated as arrays
 */
export function roofMonths(view: View): Finding | null {
  const { roof } = view.results
  if (roof === null) return null
  const shown = PARTS.filter(
    ([, key]) => key === 'deliveredKwh' || roof.options.some(one => sumOf(one.yearByMonth[key]) > 0.5),
  )
  const highest = Math.max(...roof.options.flatMap(one => one.yearByMonth.idealKwh))
  return finding({
    id: 'roof-months',
    topic: 'What the roof gives, month by month',
    sentence: sentence(view),
    paragraphs: [light(view), ...inWords(view)],
    figures: [view.best].flatMap((option): Picture[] => {
      const of = roof.options.find(one => one.option === option.id)
      if (of === undefined) return []
      const id = `roof-months-${option.id.toLowerCase()}`
      return [
        {
          heading: `First year with ${view.name(option)}, kWh a month`,
          key: fillKey(
            id,
            shown.map(([words]) => words),
          ),
          svg: energyByMonth(
            {
              id,
              title: `Energy of the first year by month and cause, ${view.name(option)}`,
              description: `${formatEnergy(sumOf(of.yearByMonth.deliveredKwh), null, view.locale)} delivered of ${formatEnergy(sumOf(of.yearByMonth.idealKwh), null, view.locale)} that the panels could give.`,
            },
            shown.map(([, key]) => of.yearByMonth[key]),
            highest,
            value => formatNumber(value, 1, view.locale),
          ),
        },
      ]
    }),
    tables: [yearTable(view, roof.options), arraysTable(view)],
    margin: howKnown(view, ['energy']),
  })
}

function sentence(view: View): string {
  const [most, ...others] = byDelivered(view)
  if (most === undefined) return 'The roof gives nothing.'
  const least = others.at(-1)
  const first = `In its first year the roof delivers most with ${view.name(most.option)}: ${kwh(view, most.kwh)}`
  if (most.kwh <= 0) return 'No light falls on this roof: it gives no energy in its first year.'
  if (least === undefined) return `${first}.`
  const more = least.kwh > 0 ? ` or ${formatShare((most.kwh - least.kwh) / least.kwh, view.locale)}` : ''
  return `${first}, ${kwh(view, most.kwh - least.kwh)}${more} more than with ${view.name(least.option)}, before anything fails.`
}

function byDelivered(view: View): { option: OptionResult; kwh: number }[] {
  const found = (view.results.roof?.options ?? []).map(one => ({
    option: view.option(one.option),
    kwh: sumOf(one.yearByMonth.deliveredKwh),
  }))
  return found.sort((a, b) => b.kwh - a.kwh)
}

function light(view: View): string {
  return view.results.roof === null
    ? ''
    : `${roofKnown(view)} All options get the same light, so their differences are known better than that.`
}

/** The published range where shade is given in a word. */
function inWords(view: View): string[] {
  const { roof } = view.results
  if (roof === null || !roof.shadeInWords) return []
  const ranges = roof.options.flatMap(one => {
    const range = one.deliveredRangeKwh
    if (range === null || range.high - range.low < 0.005 * range.high) return []
    return [`${kwh(view, range.low)} and ${kwh(view, range.high)} with ${view.name(one.option)}`]
  })
  if (ranges.length === 0) return []
  const recovered = view.results.inputs.find(input => input.key === 'roof.shade_recovered')
  const published =
    recovered === undefined
      ? ''
      : ` (${formatInputRange(recovered.low, recovered.high, 'share', view.locale)} in published tests)`
  return [
    `Shade is given in a word only, so the share of the shade loss that tracking each panel wins back is a range${published}. The first year lies between ${joinWords(ranges)}. Giving hours and panels narrows it.`,
  ]
}

function yearTable(view: View, options: readonly OptionRoofFindings[]): Table {
  const plain = (value: number): string => formatNumber(value, 1, view.locale)
  return table(
    'Energy of the first year while everything works, kWh',
    ['Energy', ...options.map(one => `#${one.option}`)],
    [
      ['What the panels could give', ...options.map(one => plain(sumOf(one.yearByMonth.idealKwh)))],
      ...PARTS.slice(1).map(([words, key]) => [words, ...options.map(one => plain(sumOf(one.yearByMonth[key])))]),
      ['Delivered', ...options.map(one => plain(sumOf(one.yearByMonth.deliveredKwh)))],
    ],
    ['What the panels could give is direct current after soiling, wiring and the like; conversion counts in full.'],
  )
}

function arraysTable(view: View): Table {
  const arrays = view.results.roof?.arrays ?? []
  return table(
    'The arrays',
    ['Array', '#kW of panels', '#kWh a kW and year', '#Light, kWh/m² a year'],
    arrays.map(array => [
      array.name,
      formatNumber(array.kw, 0.01, view.locale),
      formatNumber(array.kwhPerKw, 1, view.locale),
      formatNumber(array.lightKwhM2, 1, view.locale),
    ]),
    ['Without shade, before the inverter.'],
  )
}

function kwh(view: View, value: number): string {
  return formatEnergy(value, null, view.locale)
}
