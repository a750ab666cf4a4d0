import { sumOf } from '../../../numerics/sum.ts'
import { lineKey, optionLook } from '../../charts/look.ts'
import { powerDurationChart, withoutLimit } from '../../charts/power-duration.ts'
import { type Finding, finding, type Picture, type Table, table } from '../../content.ts'
import { formatNumber } from '../../format/number.ts'
import { formatEnergy } from '../../format/quantity.ts'
import { formatShare } from '../../format/share.ts'
import { howKnown } from '../margin.ts'
import type { View } from '../view.ts'
import { panelled } from './charted.ts'

const BUILT = 'The year is played in half-hours of clear and dull days, since a mean day would show no clipping at all.'

/** Which hours of the year are played, by what is known of the light. */
const HOURS = {
  'hourly file':
    'The hours are those of the file; clipping that hourly means hide is added, as the list of assumptions says.',
  'monthly light': BUILT,
  'typical climate': BUILT,
} as const

/**
 * What the inverters cut off, as hours of the year sorted by power (E2).
 *
 * @param view - prepared results
 * @returns the finding; null unless the energy is stated as arrays
 */
export function roofPower(view: View): Finding | null {
  const { roof } = view.results
  if (roof === null) return null
  return finding({
    id: 'roof-power',
    topic: 'What the inverter cuts off',
    sentence: sentence(view),
    paragraphs: [
      `Clipping is no fault and does no harm: the panels simply give less for the moment. One inverter for the whole roof adds up faces that peak at different hours before it cuts; a unit behind each panel cuts that panel alone. Clipping falls as the panels age. ${HOURS[roof.light]}`,
    ],
    figures: (worthAPicture(view) ? panelled(view) : []).flatMap((option): Picture[] => {
      const of = roof.options.find(one => one.option === option.id)
      if (of === undefined) return []
      const place = view.place(option)
      const rating = of.powerDuration.ratingKw
      return [
        {
          heading: `Hours of the first year by power, ${view.name(option)}`,
          key: [
            lineKey(withoutLimit(place), 'without the limit of the inverters'),
            lineKey(optionLook(place), 'as it is'),
          ],
          svg: powerDurationChart(
            {
              id: `roof-power-${option.id.toLowerCase()}`,
              title: `Hours of the year by power, ${view.name(option)}`,
              description: `At most ${formatNumber(of.powerDuration.limitedKw[0] ?? 0, 0.1, view.locale)} kW; ${formatNumber(of.powerDuration.unlimitedKw[0] ?? 0, 0.1, view.locale)} kW without the limit.`,
            },
            of.powerDuration,
            place,
            option.id,
            rating === null ? null : `rating ${formatNumber(rating, 0.1, view.locale)} kW`,
            (value, step) => formatNumber(value, step, view.locale),
          ),
        },
      ]
    }),
    tables: [limitTable(view)],
    margin: howKnown(view, ['energy']),
  })
}

function sentence(view: View): string {
  const clipped = (view.results.roof?.options ?? []).map(one => ({
    name: view.name(one.option),
    kwh: sumOf(one.yearByMonth.clippingKwh),
    share: share(one.yearByMonth.clippingKwh, one.yearByMonth.idealKwh),
  }))
  const most = clipped.reduce((a, b) => (b.kwh > a.kwh ? b : a), { name: '', kwh: 0, share: 0 })
  if (!clips(view)) return 'No option is cut off by its inverters: they are large enough for these panels.'
  return `The inverters cut off at most ${formatEnergy(most.kwh, null, view.locale)} in the first year, ${formatShare(most.share, view.locale)} of what the panels could give (${most.name}).`
}

function limitTable(view: View): Table {
  const options = view.results.roof?.options ?? []
  const kw = (value: number | null): string => (value === null ? 'not given' : formatNumber(value, 0.1, view.locale))
  return table(
    'Power of the first year',
    ['Power', ...options.map(one => `#${one.option}`)],
    [
      ['Rating of the inverters, kW', ...options.map(one => kw(one.powerDuration.ratingKw))],
      ['Largest without their limit, kW', ...options.map(one => kw(one.powerDuration.unlimitedKw[0] ?? 0))],
      ['Largest as it is, kW', ...options.map(one => kw(one.powerDuration.limitedKw[0] ?? 0))],
      ['Cut off, kWh', ...options.map(one => formatNumber(sumOf(one.yearByMonth.clippingKwh), 1, view.locale))],
    ],
  )
}

/** Share of what the panels could give from which a cut can be seen in a picture; ours. */
const SEEN = 0.001

function worthAPicture(view: View): boolean {
  return (view.results.roof?.options ?? []).some(
    one => share(one.yearByMonth.clippingKwh, one.yearByMonth.idealKwh) >= SEEN,
  )
}

/** Whether any option loses half a kWh or more to clipping. */
function clips(view: View): boolean {
  return (view.results.roof?.options ?? []).some(one => sumOf(one.yearByMonth.clippingKwh) >= 0.5)
}

function share(part: readonly number[], whole: readonly number[]): number {
  const all = sumOf(whole)
  return all > 0 ? sumOf(part) / all : 0
}
