import { stringify } from 'csv-stringify/sync'
import type { FleetResults } from '../../fleet/fleet-results.ts'
import { rounded } from '../format/number.ts'

/** Headings of years.csv and of its sheet in reserve.xlsx (F7a). */
const YEAR_HEADINGS = [
  'Year',
  'Bills, mean',
  'Half of futures stay under (P50)',
  '8 of 10 futures stay under (P80)',
  '9 of 10 futures stay under (P90)',
  '19 of 20 futures stay under (P95)',
  'Failures, mean',
  'Visits, covered ones too, mean',
] as const

/** Headings of further columns: where monitoring can fail, and where something may be bought later (C8). */
const MONITORING_HEADING = 'Of these failures, of monitoring alone, mean'
const LATER_HEADING = 'Bought later, mean, in no other column'

/**
 * The headings for a fleet.
 *
 * @param results - of the fleet
 */
export function yearHeadings(results: FleetResults): readonly string[] {
  return [
    ...YEAR_HEADINGS,
    ...(monitoringFails(results) ? [MONITORING_HEADING] : []),
    ...(results.later === null ? [] : [LATER_HEADING]),
  ]
}

function monitoringFails({ failuresByEffect }: FleetResults): boolean {
  return failuresByEffect.monitoringOnly.value > 0
}

/**
 * Need by year, rounded as the report rounds it: to the standard error of each figure (F7a).
 *
 * @param results - of the fleet
 * @returns one row a year; years count from 1
 */
export function yearRows(results: FleetResults): number[][] {
  const { cashByYear, failuresByYear, monitoringFailuresByYear: ofMonitoring, visitsByYear, later } = results
  const { standardError } = cashByYear
  return cashByYear.mean.map((_, year) => [
    year + 1,
    ...(['mean', 'p50', 'p80', 'p90', 'p95'] as const).map(level =>
      rounded(cashByYear[level][year], standardError[level][year], 1),
    ),
    rounded(failuresByYear.mean[year], failuresByYear.standardError.mean[year], 0.1),
    rounded(visitsByYear.mean[year], visitsByYear.standardError[year], 0.1),
    ...(monitoringFails(results) ? [rounded(ofMonitoring.mean[year], ofMonitoring.standardError[year], 0.1)] : []),
    // two digits, as the report writes a figure without a known error
    ...(later === null ? [] : [Number((later.costByYear[year] ?? 0).toPrecision(2))]),
  ])
}

/**
 * years.csv: need by year (F7a).
 *
 * @param results - of the fleet
 */
export function yearsCsv(results: FleetResults): string {
  return stringify([yearHeadings(results), ...yearRows(results)])
}
