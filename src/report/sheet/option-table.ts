import type { OptionResult } from '../../analysis/results/option.ts'
import { shownOn, type Table, table, turned } from '../content.ts'
import { countedWords } from '../estimate/cost-words.ts'
import type { View } from '../estimate/view.ts'
import { daysAreDark } from '../estimate/whole-roof.ts'
import { formatNumber, roundingStep } from '../format/number.ts'
import { formatDays } from '../format/quantity.ts'
import { formatShare, formatSplit } from '../format/share.ts'
import { joinWords } from '../names.ts'

/** Options that fit on one sheet; ours. */
const MOST_ROWS = 8

/**
 * One row an option: price, lifetime cost, visits, the worst bill, the days of outage, what cover really pays.
 *
 * @param view - prepared results
 * @returns the table, transposed for phones and as it is; with more options than fit, those that cost least
 */
export function optionTables(view: View): Table[] {
  const { currency } = view.results.scenario
  const shown = view.results.options.filter(option => view.ranked.indexOf(option) < MOST_ROWS)
  const bare = (text: string): string => text.replace(/^\S+\s/u, '')
  const dark = daysAreDark(view)
  const whole = table(
    `What each option costs and asks of you over ${view.horizon}, ${currency}`,
    [
      'Option',
      '#Price',
      '#Cost over its life, on average',
      '#9 in 10 stay under',
      '#Of 100 roofs: no visit paid',
      '#one',
      '#more',
      '#Largest bill of a year, 9 in 10',
      ...(dark ? ['#Days with the roof dark'] : []),
      '#Energy lost to failures, kWh',
      '#Of repair bills, cover pays',
    ],
    shown.map(option => [
      view.name(option),
      bare(view.money(option.costs.upfront, 0)),
      bare(view.money(option.lifetimeCost.mean, option.lifetimeCost.standardError)),
      bare(view.money(option.lifetimeCost.p90, option.lifetimeCost.standardErrors.p90)),
      ...visitSplit(option),
      bare(view.money(option.largestYear.p90, option.largestYear.standardErrors.p90)),
      ...(dark ? [formatDays(option.downtimeDays.mean, view.locale).replace(/\sdays?$/u, '')] : []),
      formatNumber(
        option.energy.outageLossKwh.mean,
        roundingStep(option.energy.outageLossKwh.mean, option.energy.outageLossKwh.standardError, 1),
        view.locale,
      ),
      coverPays(option, view.locale),
    ]),
    [
      ...(shown.length < view.results.options.length
        ? [`${view.results.options.length - shown.length} more options cost more and are in the report.`]
        : []),
      `Cost over its life: ${countedWords(view)}.`,
      ...waitingRules(view),
    ],
  )
  const letters = shown.map(({ id }) => id)
  return [shownOn('phone', turned(whole, letters)), shownOn('desk', whole)]
}

/** How long a failed unit waits, on which lost energy depends; where no quote says it, by a rule of this program (O3). */
function waitingRules(view: View): string[] {
  const rules = new Map<string, string[]>()
  for (const { id, waitingPolicy } of view.results.options) {
    const rule = waitingPolicy?.against ?? null
    if (rule === null) continue
    const words = `until ${rule.waitForUnits} are down, at most ${rule.waitAtMostDays} days`
    rules.set(words, [...(rules.get(words) ?? []), id])
  }
  const assumed = view.results.inputs.some(({ key, known }) => /visit_policy/.test(key) && known !== 'yours')
  return [...rules].map(
    ([words, ids]) =>
      `A failed unit of ${joinWords(ids)} waits for its visit ${words}${assumed ? ' (assumed: no quote says)' : ''}. Its energy is lost meanwhile.`,
  )
}

/**
 * Of 100 roofs, how many pay for no visit, one, and more.
 *
 * @param option - its results
 * @returns three texts that add up to 100
 */
export function visitSplit({ visitShares }: OptionResult): string[] {
  return formatSplit([visitShares.none, visitShares.one, visitShares.twoOrMore])
}

/**
 * The share of all repair bills that cover pays in the owner's place (W4).
 *
 * @param option - its results
 * @returns share, [0, 1]; null without bills, or where covers were not counted
 */
export function coveredShare({ costs, paidByCover }: OptionResult): number | null {
  if (paidByCover === null) return null
  const covered = paidByCover.parts + paidByCover.labour + paidByCover.visits
  const bill = covered + costs.parts + costs.labour + costs.visits
  return bill > 0 ? covered / bill : null
}

function coverPays(option: OptionResult, locale: string): string {
  const share = coveredShare(option)
  return share === null ? 'no bill' : formatShare(share, locale)
}
