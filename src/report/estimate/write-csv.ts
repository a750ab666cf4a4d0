import { stringify } from 'csv-stringify/sync'
import type { Comparison } from '../../analysis/results/comparison.ts'
import type { OptionResult } from '../../analysis/results/option.ts'
import type { Results } from '../../analysis/results.ts'
import { NonFiniteError } from '../../errors.ts'
import { cellText } from '../../input/cell-text.ts'
import { rounded } from '../format/number.ts'

/** Significant digits of a figure without an error of its own. Ours. */
const DIGITS = 3
/** Finest steps of money and of shares in [0, 1]. */
const FINEST = 0.01

/** A cell: text, a count that is written as it is, or a figure with its standard error, null where it has none. */
type Cell =
  | string
  | { readonly count: number | null }
  | { readonly figure: number | null; readonly error: number | null }

/** A column: its heading in plain words, and what it holds of a row. */
type Columns<Row> = readonly (readonly [heading: string, of: (row: Row) => Cell])[]

const figure = (value: number | null | undefined, error: number | null = null): Cell => ({
  figure: value ?? null,
  error,
})
const count = (value: number | null): Cell => ({ count: value })

interface OptionYear {
  readonly option: OptionResult
  readonly year: number
}

const YEARLY: Columns<OptionYear> = [
  ['Option', ({ option }) => option.id],
  ['Name', ({ option }) => option.name],
  ['Year', ({ year }) => count(year + 1)],
  ['Failures', ({ option, year }) => figure(option.failuresByYear[year])],
  [
    'Share of lifetimes with a failure by its end',
    ({ option, year }) => figure(option.failures.atLeastOneByYear[year + 1]),
  ],
  ['Paid, mean', ({ option, year }) => figure(option.cashByYear.mean[year])],
  ['Paid so far, half stay under', ({ option, year }) => figure(option.cumulativeCash.p50[year])],
  ['Paid so far, 8 in 10 stay under', ({ option, year }) => figure(option.cumulativeCash.p80[year])],
  ['Paid so far, 9 in 10 stay under', ({ option, year }) => figure(option.cumulativeCash.p90[year])],
  ['Paid so far, 19 in 20 stay under', ({ option, year }) => figure(option.cumulativeCash.p95[year])],
  ['Should be ready', ({ option, year }) => figure(option.reserve.readyAhead[year])],
  ['Balance, 1 in 10 below', ({ option, year }) => figure(option.balanceByYear.p10[year])],
  ['Balance, half below', ({ option, year }) => figure(option.balanceByYear.p50[year])],
  ['Balance, 9 in 10 below', ({ option, year }) => figure(option.balanceByYear.p90[year])],
  ['Parts promised, share', ({ option, year }) => figure(option.coverByYear.paper[year])],
  ['Bill spared, share', ({ option, year }) => figure(option.coverByYear.effective[year])],
]

/**
 * yearly.csv: one row an option and year, years counted from 1. Money is in prices of the start date, undiscounted;
 * balances are those at the end of the year; shares are numbers in [0, 1]; an empty cell: no failure in that year.
 *
 * @param results - everything a run finds
 * @returns CSV with a header (RFC 4180)
 * @throws NonFiniteError N4
 */
export function yearlyCsv(results: Results): string {
  return csv(
    YEARLY,
    results.options.flatMap(option => option.failuresByYear.map((_, year) => ({ option, year }))),
  )
}

const reserveColumns = (currency: string): Columns<OptionResult> => [
  ['Option', ({ id }) => id],
  ['Name', ({ name }) => name],
  ['Currency', () => currency],
  ['Enough in this share of lifetimes', ({ reserve }) => count(reserve.confidence)],
  ['Have ready', ({ reserve }) => figure(reserve.twoPart.ready)],
  ['and put aside, a year', ({ reserve }) => figure(reserve.twoPart.perYear)],
  ['Level deposit alone, a year', ({ reserve }) => figure(reserve.contributionPerYear)],
  ['Level deposit alone, a month', ({ reserve }) => figure(reserve.contributionPerMonth)],
  ['Level deposit enough in half of lifetimes', ({ reserve }) => figure(reserve.contributionAt['50'])],
  ['in 8 of 10', ({ reserve }) => figure(reserve.contributionAt['80'])],
  ['in 9 of 10', ({ reserve }) => figure(reserve.contributionAt['90'])],
  ['Level deposit fixed in money, a year', ({ reserve }) => figure(reserve.fixedInMoney?.contributionPerYear)],
  ['Share of lifetimes in which it falls short', ({ reserve }) => figure(reserve.chanceShort)],
  ['Lacking then, mean', ({ reserve }) => figure(reserve.meanShortfall)],
  [
    'Half of those by year',
    ({ reserve: { firstShortYear } }) => count(firstShortYear === null ? null : firstShortYear + 1),
  ],
  ['Should be there today', ({ reserve }) => figure(reserve.fullyFundedBalance)],
  ['Of it there, per cent', ({ reserve }) => figure(reserve.percentFunded)],
  [
    'Largest bill of a year, half stay under',
    ({ largestYear }) => figure(largestYear.p50, largestYear.standardErrors.p50),
  ],
  [
    'Largest bill of a year, 9 in 10 stay under',
    ({ largestYear }) => figure(largestYear.p90, largestYear.standardErrors.p90),
  ],
  [
    'Largest bill of years 10 to 15, 9 in 10 stay under',
    ({ billYears10To15 }) => figure(billYears10To15.p90, billYears10To15.standardErrors.p90),
  ],
]

/**
 * reserve.csv: what to put aside, one row an option (R2, R3).
 *
 * @param results - everything a run finds
 * @returns CSV with a header
 * @throws NonFiniteError N4
 */
export function reserveCsv(results: Results): string {
  return csv(reserveColumns(results.scenario.currency), results.options)
}

const COMPARISONS: Columns<Comparison> = [
  ['Option', ({ option }) => option],
  ['Against', ({ against }) => against],
  ['Lifetime difference, mean', pair => figure(pair.meanDifference, pair.standardError)],
  ['Standard error', ({ standardError }) => figure(standardError)],
  ['Likely range from', ({ interval90, standardError }) => figure(interval90[0], standardError)],
  ['Likely range to', ({ interval90, standardError }) => figure(interval90[1], standardError)],
  ['Share of sets in which it is ahead', pair => figure(pair.chanceBetterOnAverage)],
  ['Share of lifetimes in which it is cheaper', pair => figure(pair.chanceCheaper)],
  ['Worth up to', pair => figure(pair.breakEvenPremium, pair.standardError)],
  ['Worth from', pair => figure(pair.breakEvenInterval90[0], pair.standardError)],
  ['Worth to', pair => figure(pair.breakEvenInterval90[1], pair.standardError)],
  ['Verdict', ({ verdict }) => verdict ?? ''],
  ['Ahead from year', ({ aheadFromYear }) => count(aheadFromYear)],
  [
    'Difference if both failed alike',
    ({ withTierEffect0: alike }) => figure(alike?.meanDifference, alike?.standardError ?? null),
  ],
  ['Its standard error', ({ withTierEffect0: alike }) => figure(alike?.standardError)],
  [
    'Worth up to if both failed alike',
    ({ withTierEffect0: alike }) => figure(alike?.breakEvenPremium, alike?.standardError ?? null),
  ],
]

/**
 * comparisons.csv: one row a pair of options (K2, K3).
 *
 * @param results - everything a run finds
 * @returns CSV with a header; the header alone with one option
 * @throws NonFiniteError N4
 */
export function comparisonsCsv(results: Results): string {
  return csv(COMPARISONS, results.comparisons)
}

function csv<Row>(columns: Columns<Row>, rows: readonly Row[]): string {
  const head = columns.map(([heading]) => heading)
  const lines = rows.map((row, index) => columns.map(([heading, of]) => cell(of(row), heading, index)))
  return stringify([head, ...lines], { record_delimiter: '\r\n' })
}

/** A number rounded to its error; results.json has every digit. Text that a spreadsheet would run gets an apostrophe. */
function cell(content: Cell, heading: string, row: number): string {
  if (typeof content === 'string') return cellText(content)
  const value = 'count' in content ? content.count : content.figure
  if (value === null) return ''
  if (!Number.isFinite(value)) throw new NonFiniteError('N4', `${heading} in row ${row + 1}`)
  if ('count' in content) return String(value)
  return String(content.error === null ? Number(value.toPrecision(DIGITS)) : rounded(value, content.error, FINEST))
}
