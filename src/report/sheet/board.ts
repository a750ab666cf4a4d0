import { kindWords } from '../../topologies/kinds.ts'
import { shownOn, type Table, table, turned } from '../content.ts'
import { howSure } from '../estimate/how-sure.ts'
import { asideBox } from '../estimate/put-aside.ts'
import { bestPair, type View } from '../estimate/view.ts'
import { formatNumber } from '../format/number.ts'
import { formatCount } from '../format/quantity.ts'
import type { SheetBox } from './content.ts'
import { wouldTurn } from './would-turn.ts'

/** Years on the sheet of a board. */
const YEARS = 10

/**
 * The bills of the first ten years of the option that costs least: on average, and summed so that 9 in 10 stay under.
 *
 * @param view - prepared results
 * @returns the table, for phones with a row a year, and as it is
 */
export function boardTables(view: View): Table[] {
  const { best } = view
  const years = Math.min(YEARS, view.horizonYears)
  const bare = (text: string): string => text.replace(/^\S+\s/u, '')
  const row = (words: string, values: readonly number[]): string[] => [
    words,
    ...values.slice(0, years).map(value => bare(view.money(value, null))),
  ]
  const whole = table(
    `Bills to expect with ${view.name(best)}, ${view.results.scenario.currency} of today`,
    ['', ...Array.from({ length: years }, (_, year) => `#Year ${formatNumber(year + 1, 1, view.locale)}`)],
    [
      row('Of the year, on average', best.cashByYear.mean),
      row('Summed up, 9 in 10 stay under', best.cumulativeCash.p90),
      row('To have ready at its start', best.reserve.readyAhead),
    ],
  )
  const byYear = turned(
    whole,
    whole.rows.map(({ heading }) => heading),
  )
  return [shownOn('phone', byYear), shownOn('desk', whole)]
}

/**
 * The boxes of the board's page: what to put aside, which units need most, how sure, what would change it.
 *
 * @param view - prepared results
 * @returns boxes with at least one point
 */
export function boardBoxes(view: View): SheetBox[] {
  return [
    asideBox(view),
    { heading: 'Which units fail most', points: unitsFirst(view) },
    { heading: 'How sure this is', points: howSure(view, bestPair(view)) },
    { heading: 'What would change the answer', points: wouldTurn(view) },
  ].filter(box => box.points.length > 0)
}

/** Populations of the best option, those with most failures first. */
function unitsFirst(view: View): string[] {
  return [...view.best.populations]
    .sort((a, b) => b.failures.mean - a.failures.mean)
    .map(
      ({ kind, count, failures }) =>
        `${count === 1 ? 'The' : `The ${formatNumber(count, 1, view.locale)}`} ${kindWords(kind, count)}: ${formatCount(failures.mean, failures.standardError, view.locale)} failures over ${view.horizon}.`,
    )
}
