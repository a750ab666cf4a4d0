import type { OptionResult } from '../../../analysis/results/option.ts'
import { sumOf } from '../../../numerics/sum.ts'
import { DAYS_OF_MONTH } from '../../../units.ts'
import { fillKey } from '../../charts/look.ts'
import { stackedBars } from '../../charts/stacked-bars.ts'
import { type Finding, finding, type Table, table } from '../../content.ts'
import { formatPricePerKwh } from '../../format/money.ts'
import { formatNumber } from '../../format/number.ts'
import { formatDays, formatEnergy } from '../../format/quantity.ts'
import { formatAvailability, formatShare } from '../../format/share.ts'
import { joinList, joinWords } from '../../names.ts'
import { inGroups } from '../by-option.ts'
import { howKnown } from '../margin.ts'
import type { View } from '../view.ts'
import { daysAreDark } from '../whole-roof.ts'

const CAUSES = [
  'Lost to failures',
  'Shade and mismatch',
  'Conversion',
  'Cut off at the inverter\u2019s limit (clipping)',
  'Cut off at the export limit',
]

/**
 * Energy that is lost, by cause, and how long the roof is down (O, C7).
 *
 * @param view - prepared results
 * @returns the finding
 */
export function energyLost(view: View): Finding {
  const id = 'energy'
  const options = view.results.options
  const shown = CAUSES.map((_, index) => index).filter(index =>
    options.some(option => (causes(option)[index] ?? 0) > 0),
  )
  return finding({
    id: 'energy-lost',
    topic: 'Energy lost to failures and by design',
    sentence: sentence(view),
    paragraphs: [
      downtime(view),
      seasons(view),
      'Without alerts nobody notices a dead inverter until a bill or a glance at the meter. That is the longest step of an outage, and the cheapest to shorten.',
      ...design(view),
      ...batteries(view),
    ],
    figures: [
      {
        heading: `Energy lost over ${view.horizon}, by cause, kWh`,
        key: fillKey(
          id,
          shown.map(index => CAUSES[index] ?? ''),
        ),
        svg: stackedBars(
          {
            id,
            title: 'Energy lost by cause, each option',
            description: options
              .map(option => `${view.name(option)}: ${formatEnergy(lostKwh(option), null, view.locale)}`)
              .join('; '),
          },
          options.map(option => ({
            letter: option.id,
            place: view.place(option),
            parts: shown.map(index => causes(option)[index] ?? 0),
            total: lostKwh(option),
            said: formatEnergy(lostKwh(option), null, view.locale).replace(/\skWh$/u, ''),
          })),
          `kWh over ${view.horizon}`,
          value => formatNumber(value, 1, view.locale),
        ),
      },
    ],
    tables: inGroups(options, 6).map(group => lossTable(view, group)),
    margin: howKnown(view, ['downtime', 'energy']),
  })
}

function sentence(view: View): string {
  const { best } = view
  const { mean, standardError } = best.energy.outageLossKwh
  const share = best.energy.idealKwh > 0 ? mean / best.energy.idealKwh : 0
  return `With ${view.name(best)}, failures cost about ${formatEnergy(mean, standardError, view.locale)} over ${view.horizon}, ${formatShare(share, view.locale)} of what the roof could give, worth about ${view.money(best.costs.outageEnergy, best.costStandardErrors.outageEnergy)} today.`
}

function downtime(view: View): string {
  const days = view.ranked
    .slice(0, 4)
    .map(option => `${formatDays(option.downtimeDays.mean, view.locale)} with ${view.name(option)}`)
  const outages = daysAreDark(view)
    ? `The roof is dark for ${joinWords(days)} on average over ${view.horizon}.`
    : `Failures lose as much as the whole roof gives in ${joinWords(days)} on average over ${view.horizon}. With units behind the panels the roof is seldom dark: one failed unit of twenty for twenty days counts as one day.`
  return `${outages} In 9 of 10 lifetimes failures with ${view.name(view.best)} take no more than ${formatEnergy(view.best.energy.outageLossKwh.p90, view.best.energy.outageLossKwh.standardErrors.p90, view.locale)}: high is bad, as for a cost. A yield called \u201cP90\u201d in a forecast is the other way round: 9 of 10 years give more.`
}

/** What one day without the roof loses in the best and in the worst month. */
function seasons(view: View): string {
  const { deliveredByMonthKwh, outageLossKwh } = view.best.energy
  const perDay = deliveredByMonthKwh.map((kwh, month) => kwh / view.horizonYears / (DAYS_OF_MONTH[month] ?? 30))
  const high = Math.max(...perDay)
  const low = Math.min(...perDay)
  const value = outageLossKwh.mean > 0 ? view.best.costs.outageEnergy / outageLossKwh.mean : null
  const worth =
    value === null
      ? ''
      : `. Over thirty days that is ${view.money(30 * high * value, null)} against ${view.money(30 * low * value, null)}, at the ${formatPricePerKwh(value, view.results.scenario.currency, view.locale).replace(/\sper\skWh$/u, '')} that a lost kWh is worth here on average, in today\u2019s money`
  return `When it fails matters: a day without the roof loses about ${formatNumber(high, 0.1, view.locale)} kWh in the brightest month and ${formatNumber(low, 0.1, view.locale)} kWh in the darkest${worth}.`
}

function design(view: View): string[] {
  const { options } = view.results
  const said: string[] = []
  const clipped = options.filter(option => option.energy.designLossKwh.clipping > 0)
  if (clipped.length > 0) {
    const parts = everyOne(
      clipped.slice(0, 4).map(option => ({
        share: `${formatShare(option.energy.designLossKwh.clipping / option.energy.idealKwh, view.locale)} (worth ${view.money(option.energy.clippingValue, null)} over ${view.horizon})`,
        name: view.name(option),
      })),
    )
    said.push(
      `Cut off at the inverter\u2019s limit (clipping), on purpose and without harm: ${parts}. It falls as the panels age.`,
    )
  }
  if (options.every(option => option.energy.designLossKwh.shadeAndMismatch === 0)) {
    said.push(
      'No shade or mismatch was given for any option, so no gain from tracking each panel is counted. Gains of that kind come from uneven light only; a hill or wall that shades all panels at once gives almost nothing back.',
    )
  }
  const first = view.best
  const other = view.second
  if (other !== null) {
    const gap =
      Math.abs(first.energy.designLossKwh.conversion - other.energy.designLossKwh.conversion) / view.horizonYears
    const noise =
      (2 * (first.energy.outageLossKwh.standardError + other.energy.outageLossKwh.standardError)) / view.horizonYears
    said.push(
      gap === 0
        ? `${view.name(first)} and ${view.name(other)} convert alike here: no difference in efficiency was given.`
        : `The difference in conversion between ${view.name(first)} and ${view.name(other)} is ${formatNumber(gap, 1, view.locale)} kWh a year${gap < noise ? ', less than the noise of this simulation' : ''}, ${formatShare((gap * view.horizonYears) / first.energy.idealKwh, view.locale)} of what the roof could give.`,
    )
  }
  return said.length === 0 ? [] : [said.join(' ')]
}

/** Shares with the options that have them, each share once; no option is named where all agree. */
function everyOne(parts: readonly { readonly share: string; readonly name: string }[]): string {
  const shares = [...new Set(parts.map(part => part.share))]
  if (shares.length === 1 && parts.length > 1) return `${parts[0]?.share ?? ''} with every option that loses any`
  return joinList(
    shares.map(
      share => `${share} with ${joinWords(parts.filter(part => part.share === share).map(part => part.name))}`,
    ),
  )
}

/** What an idle battery costs, and days without backup (O7). */
function batteries(view: View): string[] {
  const backed = view.results.options.filter(option => option.daysWithoutBackup !== null)
  const without = view.results.options.filter(option => option.daysWithoutBackup === null).map(one => view.name(one))
  const idle = view.results.options.filter(option => option.costs.batteryOutage > 0)
  const said = [
    ...idle.map(
      option =>
        `With ${view.name(option)} the battery is idle while its inverter is down; that costs ${view.money(option.costs.batteryOutage, option.costStandardErrors.batteryOutage)}.`,
    ),
    ...backed.map(
      option =>
        `Backup power is missing for ${formatDays(option.daysWithoutBackup ?? 0, view.locale)} with ${view.name(option)}, counted but not priced.`,
    ),
    ...(backed.length > 0 && without.length > 0 ? [`No backup power at all with ${joinWords(without)}.`] : []),
  ]
  return said.length === 0 ? [] : [said.join(' ')]
}

function causes(option: OptionResult): number[] {
  const { designLossKwh: loss, outageLossKwh } = option.energy
  return [outageLossKwh.mean, loss.shadeAndMismatch, loss.conversion, loss.clipping, loss.exportLimit]
}

function lostKwh(option: OptionResult): number {
  return sumOf(causes(option))
}

function lossTable(view: View, options: readonly OptionResult[]): Table {
  const kwh = (value: number, error: number | null): string =>
    formatEnergy(value, error, view.locale).replace(/\skWh$/u, '')
  return table(
    `Energy over ${view.horizon}, kWh`,
    ['Energy', ...options.map(option => `#${option.id}`)],
    [
      ['What the roof could give', ...options.map(option => kwh(option.energy.idealKwh, null))],
      ...CAUSES.map((cause, index) => [
        cause,
        ...options.map(option =>
          kwh(causes(option)[index] ?? 0, index === 0 ? option.energy.outageLossKwh.standardError : null),
        ),
      ]),
      ['Delivered', ...options.map(option => kwh(option.energy.deliveredKwh, null))],
      [
        'Lost to failures: 9 of 10 lifetimes lose no more than',
        ...options.map(option => kwh(option.energy.outageLossKwh.p90, option.energy.outageLossKwh.standardErrors.p90)),
      ],
      [
        daysAreDark(view) ? 'Days with the roof dark' : 'As days of the whole roof',
        ...options.map(option => formatDays(option.downtimeDays.mean, view.locale).replace(/\sdays?$/u, '')),
      ],
      ['Available, by time', ...options.map(option => formatAvailability(option.availability.timeBased, view.locale))],
      [
        'Available, by energy',
        ...options.map(option =>
          option.availability.energyWeighted === null
            ? 'none'
            : formatAvailability(option.availability.energyWeighted, view.locale),
        ),
      ],
    ],
    ['Availability by time and by energy as IEC TS 63019 and IEC 61703 name them.'],
  )
}
