import { stringify } from 'csv-stringify/sync'
import { cellText } from '../../input/cell-text.ts'
import { middle } from '../../scenario/quantity.ts'
import type { FirstSite } from '../fleet-results.ts'
import type { SiteFigures } from '../play/site-recorder.ts'
import type { LeftOut, ReadSite } from '../sites/site-reader.ts'

/** Headings of sites.csv (F7a), without the rank. Money in the currency of the fleet, prices of the start date. */
export const SITE_HEADINGS = [
  'Site',
  'Played',
  'Option',
  'Model',
  'Maker',
  'Age, years',
  'Cover left, years',
  'Chance of a failure next year',
  'Chance of a failure in the next 5 years',
  'Expected bill next year',
  'Expected bill in the next 5 years',
  'Expected bill to the end',
  'Bill to the end that 9 of 10 futures stay under',
  'To put aside a year, alone',
  'Failures to the end',
  'Energy lost to the end, kWh',
  'Why',
  'Why left out',
] as const

/** First line of the lines of sites as they are played. */
export const SITES_HEADER = stringify([SITE_HEADINGS])

/**
 * A site as lists of the first roofs show it; figures rounded as in sites.csv, so that all lists have one order.
 *
 * @param site - as read
 * @param figures - what it came to alone
 */
export function firstSite(site: ReadSite, { next, nextFive }: SiteFigures): FirstSite {
  const { siteClass, ages, ticket } = site
  const ageYears = Number((ages[0] ?? 0).toFixed(2))
  const years = siteClass.option.populations[0]?.warranty.years ?? 0
  const coverLeftYears = Number(Math.max(0, years - ageYears).toFixed(2))
  return {
    id: ticket.id,
    option: siteClass.option.name,
    model: siteClass.standsAlone ? '' : siteClass.leadModel,
    ageYears,
    coverLeftYears,
    chanceNextYear: Number(next.chance.toFixed(3)),
    chanceNextFiveYears: Number(nextFive.chance.toFixed(3)),
    billNextYear: Number(next.cash.toFixed(2)),
    billNextFiveYears: Number(nextFive.cash.toFixed(2)),
    why: whyOf(site, ageYears, coverLeftYears),
  }
}

/**
 * Lines of sites.csv, each without the rank.
 *
 * @param sites - cells of each
 */
export function siteLines(sites: readonly (readonly string[])[]): string {
  return stringify([...sites])
}

/**
 * The cells of a site that was played.
 *
 * @param site - as read
 * @param first - as lists of the first roofs show it
 * @param figures - what it came to alone
 */
export function siteCells(
  { siteClass: { standsAlone, option } }: ReadSite,
  first: FirstSite,
  figures: SiteFigures,
): readonly string[] {
  return [
    cellText(first.id),
    'yes',
    cellText(first.option),
    cellText(first.model),
    standsAlone ? '' : cellText(option.warrantyProvider.name),
    String(first.ageYears),
    String(first.coverLeftYears),
    first.chanceNextYear.toFixed(3),
    first.chanceNextFiveYears.toFixed(3),
    first.billNextYear.toFixed(2),
    first.billNextFiveYears.toFixed(2),
    figures.cash.toFixed(2),
    (figures.cash90 / 100).toFixed(2),
    (figures.contribution / 100).toFixed(2),
    figures.failures.toFixed(3),
    figures.lostKwh.toFixed(1),
    first.why,
    '',
  ]
}

/**
 * The cells of a site that was left out (F5).
 *
 * @param site - with the reason
 */
export function leftOutCells({ ticket, reason }: LeftOut): readonly string[] {
  const empty = new Array<string>(SITE_HEADINGS.length - 3).fill('')
  return [cellText(ticket.id), 'no', ...empty, cellText(reason)]
}

/** What makes a roof come early: its age, its cover, its yearly cost, what a failure of its first component costs. */
function whyOf({ siteClass, ageKnown }: ReadSite, ageYears: number, coverLeftYears: number): string {
  const { option, scenario } = siteClass
  const [unit] = option.populations
  if (unit === undefined) return ''
  const visit = unit.needsVisit ? middle(unit.prices.labour) + middle(scenario.visit.callOut) : 0
  const access = unit.needsVisit && unit.onRoof ? middle(scenario.visit.roofAccess) : 0
  const bill = Number((middle(unit.prices.parts) + visit + access).toPrecision(2))
  const age = ageYears === 0 ? 'new' : `${ageYears.toFixed(1)} years old`
  const said = ageKnown ? age : `age not known, taken as ${ageYears.toFixed(1)} years`
  const cover =
    coverLeftYears === 0 ? 'parts no longer covered' : `parts covered for ${coverLeftYears.toFixed(1)} more years`
  const yearly = middle(option.yearlyCost)
  const fixed = yearly > 0 ? `, ${Number(yearly.toPrecision(3))} a year in any case` : ''
  return `${said}, ${cover}${fixed}; a failure costs about ${bill}`
}
