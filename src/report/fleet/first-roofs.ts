import { type Finding, finding, table } from '../content.ts'
import { formatNumber } from '../format/number.ts'
import { formatShare } from '../format/share.ts'
import { joinWords } from '../names.ts'
import { FAILURES_KNOWN, type FleetView, FROM_TEMPLATE } from './fleet-view.ts'

/** Years that are named. */
const NAMED = 3

/**
 * Which roofs come first, and which years need most (F7a).
 *
 * @param view - prepared results
 */
export function firstRoofs(view: FleetView): Finding {
  const { firstSites, expectedBills, fleet } = view.results
  const { nextYear, nextFiveYears } = expectedBills
  return finding({
    id: 'first-roofs',
    topic: 'The roofs that come first',
    sentence: `${roofsSentence(view)} ${yearsSentence(view)}`,
    paragraphs: [
      `Over all ${view.sites(fleet.played)} expect bills of ${view.money(nextYear.pooled)} next year and ${view.money(nextFiveYears.pooled)} in the next five years. That is the sum over the sites in sites.csv, where every roof has its rank.`,
    ],
    tables: [
      table(
        `The first ${firstSites.length === 1 ? 'roof' : `${firstSites.length} roofs`}, by expected bill of the next five years, ${fleet.currency}`,
        ['Roof', '#Fails next year', '#Fails in five years', '#Bill next year', '#Bill in five years', 'Why'],
        firstSites.map(site => [
          view.name(site.id),
          formatShare(site.chanceNextYear),
          formatShare(site.chanceNextFiveYears),
          formatNumber(site.billNextYear, 1),
          formatNumber(site.billNextFiveYears, 1),
          site.why,
        ]),
        [
          'Fails: the share of futures in which a unit of the roof fails, monitoring not counted. Bills are means; most roofs pay nothing, a few a whole repair.',
        ],
      ),
    ],
    margin: [FROM_TEMPLATE, FAILURES_KNOWN],
  })
}

/**
 * The roofs that come first in one sentence.
 *
 * @param view - prepared results
 */
export function roofsSentence(view: FleetView): string {
  const { firstSites } = view.results
  if (firstSites.every(({ billNextFiveYears }) => billNextFiveYears === 0))
    return 'No roof has a bill in the next five years.'
  return `Largest expected bills in five years: ${joinWords(firstSites.map(({ id }) => view.name(id)))}.`
}

/**
 * The years that need most in one sentence.
 *
 * @param view - prepared results
 */
export function yearsSentence(view: FleetView): string {
  const named = view.results.dearestYears.slice(0, NAMED).filter(({ mean }) => mean > 0)
  const share = named.reduce((sum, year) => sum + year.shareOfAll, 0)
  const years = named.map(({ year }) => year + 1).sort((a, b) => a - b)
  if (years.length === 0) return 'No year has bills.'
  return years.length === 1
    ? `Year ${years[0]} needs most: ${formatShare(share)} of all bills.`
    : `Years ${joinWords(years.map(String))} need most: ${formatShare(share)} of all bills.`
}
