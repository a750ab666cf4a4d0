import { momentsOf } from '../../numerics/samples/moments.ts'
import type { FleetResults, ValueWithError } from '../fleet-results.ts'
import { meanFigure, quantileFigure } from './figures.ts'

const MOST_YEARS = 5

/** What fleet.json says year by year (R3, F7). */
export type YearFigures = Pick<
  FleetResults,
  'cashByYear' | 'cumulativeCash' | 'failuresByYear' | 'monitoringFailuresByYear' | 'visitsByYear' | 'dearestYears'
>

/**
 * Figures of every year.
 *
 * @param cash - of the fleet, money; draws × years, row-major
 * @param failures - of the fleet; draws × years, row-major
 * @param ofMonitoring - of these, of monitoring alone; likewise
 * @param visits - likewise
 * @param draws - of the fleet
 */
export function yearFigures(
  cash: Float64Array,
  failures: Float64Array,
  ofMonitoring: Float64Array,
  visits: Float64Array,
  draws: number,
): YearFigures {
  const cashOf = columnsOf(cash, draws)
  const failuresOf = columnsOf(failures, draws)
  const cumulativeOf = columnsOf(cumulated(cash, draws), draws)
  const mean = cashOf.map(meanFigure)
  const unseen = columnsOf(ofMonitoring, draws).map(meanFigure)
  const visited = columnsOf(visits, draws).map(meanFigure)
  const failed = { mean: failuresOf.map(meanFigure), p10: levels(failuresOf, 0.1), p90: levels(failuresOf, 0.9) }
  const byYear = {
    mean,
    p10: levels(cashOf, 0.1),
    p50: levels(cashOf, 0.5),
    p80: levels(cashOf, 0.8),
    p90: levels(cashOf, 0.9),
    p95: levels(cashOf, 0.95),
  }
  return {
    cashByYear: { ...each(byYear, 'value'), standardError: each(byYear, 'standardError') },
    cumulativeCash: each(
      {
        p50: levels(cumulativeOf, 0.5),
        p80: levels(cumulativeOf, 0.8),
        p90: levels(cumulativeOf, 0.9),
        p95: levels(cumulativeOf, 0.95),
      },
      'value',
    ),
    failuresByYear: { ...each(failed, 'value'), standardError: each(failed, 'standardError') },
    monitoringFailuresByYear: {
      mean: unseen.map(({ value }) => value),
      standardError: unseen.map(({ standardError }) => standardError),
    },
    visitsByYear: {
      mean: visited.map(({ value }) => value),
      standardError: visited.map(({ standardError }) => standardError),
    },
    dearestYears: dearest(mean, byYear.p90),
  }
}

/**
 * Mean of every year over the draws.
 *
 * @param column - draws × years, row-major
 * @param draws - rows
 */
export function meanByYear(column: Float64Array, draws: number): number[] {
  return columnsOf(column, draws).map(values => momentsOf(values).mean)
}

function dearest(mean: readonly ValueWithError[], p90: readonly ValueWithError[]): FleetResults['dearestYears'] {
  const all = mean.reduce((sum, { value }) => sum + value, 0)
  return mean
    .map(({ value }, year) => ({
      year,
      mean: value,
      p90: p90[year]?.value ?? 0,
      shareOfAll: all === 0 ? 0 : value / all,
    }))
    .sort((a, b) => b.mean - a.mean || a.year - b.year)
    .slice(0, MOST_YEARS)
}

function levels(columns: readonly Float64Array[], p: number): ValueWithError[] {
  return columns.map(year => quantileFigure(year, p))
}

/** One side of every figure of some rows. */
function each<Name extends string>(
  rows: Readonly<Record<Name, readonly ValueWithError[]>>,
  side: keyof ValueWithError,
): Record<Name, number[]> {
  // the names are those of `rows`
  return Object.fromEntries(
    Object.entries<readonly ValueWithError[]>(rows).map(([name, figures]) => [
      name,
      figures.map(figure => figure[side]),
    ]),
  ) as Record<Name, number[]>
}

function columnsOf(column: Float64Array, draws: number): Float64Array[] {
  const years = column.length / draws
  return Array.from({ length: years }, (_, year) =>
    Float64Array.from({ length: draws }, (_, draw) => column[draw * years + year] ?? 0),
  )
}

function cumulated(column: Float64Array, draws: number): Float64Array {
  const years = column.length / draws
  const sums = column.slice()
  for (let at = 0; at < sums.length; at++) if (at % years > 0) sums[at] = (sums[at] ?? 0) + (sums[at - 1] ?? 0)
  return sums
}
