import { stringify } from 'csv-stringify/sync'
import type { OptionResult } from '../../analysis/results/option.ts'
import type { Results } from '../../analysis/results.ts'
import { NonFiniteError } from '../../errors.ts'
import { cellText } from '../../input/cell-text.ts'

type Value = string | number | null

/**
 * yearly.csv: one row an option and year. Money is in prices of the start date, undiscounted; balances are those at the
 * end of the year; shares are numbers in [0, 1]; an empty cell: no failure in that year.
 *
 * @param results - everything a run finds
 * @returns CSV with a header (RFC 4180)
 * @throws NonFiniteError N4
 */
export function yearlyCsv(results: Results): string {
  const head = [
    'option',
    'name',
    'year',
    'failures',
    'atLeastOneFailureByEnd',
    'cashMean',
    'cumulativeCashP50',
    'cumulativeCashP80',
    'cumulativeCashP90',
    'cumulativeCashP95',
    'readyAhead',
    'balanceP10',
    'balanceP50',
    'balanceP90',
    'paperCover',
    'effectiveCover',
  ]
  return csv(
    head,
    results.options.flatMap(option => option.failuresByYear.map((_, year) => yearRow(option, year))),
  )
}

function yearRow(option: OptionResult, year: number): Value[] {
  const at = (values: readonly (number | null)[]): number | null => values[year] ?? null
  const { cumulativeCash, balanceByYear, coverByYear } = option
  return [
    option.id,
    option.name,
    year,
    at(option.failuresByYear),
    option.failures.atLeastOneByYear[year + 1] ?? null,
    at(option.cashByYear.mean),
    at(cumulativeCash.p50),
    at(cumulativeCash.p80),
    at(cumulativeCash.p90),
    at(cumulativeCash.p95),
    at(option.reserve.readyAhead),
    at(balanceByYear.p10),
    at(balanceByYear.p50),
    at(balanceByYear.p90),
    at(coverByYear.paper),
    at(coverByYear.effective),
  ]
}

/**
 * reserve.csv: what to put aside, one row an option (R2, R3).
 *
 * @param results - everything a run finds
 * @returns CSV with a header
 * @throws NonFiniteError N4
 */
export function reserveCsv(results: Results): string {
  const head = [
    'option',
    'name',
    'currency',
    'confidence',
    'contributionPerYear',
    'contributionPerMonth',
    'contributionAt50',
    'contributionAt80',
    'contributionAt90',
    'chanceShort',
    'meanShortfall',
    'firstShortYear',
    'fullyFundedBalance',
    'percentFunded',
    'largestYearP50',
    'largestYearP90',
    'billYears10To15P90',
    'fixedInMoneyPerYear',
    'twoPartReady',
    'twoPartPerYear',
  ]
  return csv(
    head,
    results.options.map(({ id, name, reserve, largestYear, billYears10To15 }) => [
      id,
      name,
      results.scenario.currency,
      reserve.confidence,
      reserve.contributionPerYear,
      reserve.contributionPerMonth,
      reserve.contributionAt['50'],
      reserve.contributionAt['80'],
      reserve.contributionAt['90'],
      reserve.chanceShort,
      reserve.meanShortfall,
      reserve.firstShortYear,
      reserve.fullyFundedBalance,
      reserve.percentFunded,
      largestYear.p50,
      largestYear.p90,
      billYears10To15.p90,
      reserve.fixedInMoney?.contributionPerYear ?? null,
      reserve.twoPart.ready,
      reserve.twoPart.perYear,
    ]),
  )
}

/**
 * comparisons.csv: one row a pair of options (K2, K3).
 *
 * @param results - everything a run finds
 * @returns CSV with a header; the header alone with one option
 * @throws NonFiniteError N4
 */
export function comparisonsCsv(results: Results): string {
  const head = [
    'option',
    'against',
    'meanDifference',
    'standardError',
    'interval90Low',
    'interval90High',
    'chanceBetterOnAverage',
    'chanceCheaper',
    'breakEvenPremium',
    'breakEvenLow',
    'breakEvenHigh',
    'verdict',
    'aheadFromYear',
    'sameReliabilityDifference',
    'sameReliabilityStandardError',
    'sameReliabilityBreakEvenPremium',
  ]
  return csv(
    head,
    results.comparisons.map(pair => [
      pair.option,
      pair.against,
      pair.meanDifference,
      pair.standardError,
      pair.interval90[0],
      pair.interval90[1],
      pair.chanceBetterOnAverage,
      pair.chanceCheaper,
      pair.breakEvenPremium,
      pair.breakEvenInterval90[0],
      pair.breakEvenInterval90[1],
      pair.verdict,
      pair.aheadFromYear,
      pair.withTierEffect0?.meanDifference ?? null,
      pair.withTierEffect0?.standardError ?? null,
      pair.withTierEffect0?.breakEvenPremium ?? null,
    ]),
  )
}

function csv(head: readonly string[], rows: readonly (readonly Value[])[]): string {
  return stringify([head, ...rows.map((row, index) => row.map((value, column) => cell(value, head[column], index)))], {
    record_delimiter: '\r\n',
  })
}

/** A number as the shortest text that reads back as itself; text that a spreadsheet would run gets an apostrophe. */
function cell(value: Value, column: string | undefined, row: number): string {
  if (value === null) return ''
  if (typeof value === 'number') {
    if (!Number.isFinite(value)) throw new NonFiniteError('N4', `${column ?? 'a cell'} in row ${row + 1}`)
    return String(value)
  }
  return cellText(value)
}
