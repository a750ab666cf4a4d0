import { NonFiniteError } from '../errors.ts'
import { momentsOf, varianceOf } from '../numerics/moments.ts'
import { quantiles } from '../numerics/quantile.ts'
import { ReserveFactors } from '../simulation/reserve-need.ts'
import { diversificationOf } from './diversification.ts'
import { deviationFigure, meanFigure, quantileFigure } from './figures.ts'
import type { ExpectedBills, FleetResults } from './fleet-results.ts'
import type { Part } from './part-file.ts'
import { modelsOf, warrantiesOf } from './risk-carriers.ts'
import { meanByYear, yearFigures } from './year-figures.ts'

/** Shares of the mean cash of the next years that should be ready (R3). */
const READY_AHEAD = [1, 0.66, 0.33] as const

/**
 * What the sums of a whole fleet say (F7). A function of whole numbers alone: the same sums give the same bytes.
 *
 * @param part - the one part, or all parts joined
 * @param tool - name and version
 * @returns the content of fleet.json
 * @throws NonFiniteError if a figure came out without meaning
 */
export function fleetFindings({ head, sums }: Part, tool: FleetResults['tool']): FleetResults {
  const { facts, shape } = head
  const { draws, years } = shape
  const cash = sums.column('cash').map(cents => cents / 100)
  const totals = rowSums(cash, draws, years)
  const failures = sums.column('failures')
  const failureTotals = rowSums(failures, draws, years)
  const lostKwh = sums.column('lostWh').map(wh => wh / 1000)
  const sites = sums.column('sites')[0] ?? 0
  const leftOut = sums.column('leftOut')[0] ?? 0
  const results: FleetResults = {
    tool,
    fleet: {
      title: facts.title,
      source: facts.source,
      option: facts.option,
      currency: facts.currency,
      horizonYears: facts.horizonYears,
      listed: facts.listed,
      played: sites,
      leftOut,
      unknownAges: facts.unknownAges,
      mark: head.mark,
    },
    seed: head.seed,
    draws,
    cash: {
      mean: meanFigure(totals),
      p10: quantileFigure(totals, 0.1),
      p50: quantileFigure(totals, 0.5),
      p90: quantileFigure(totals, 0.9),
      p95: quantileFigure(totals, 0.95),
      perSiteMean: sites === 0 ? 0 : momentsOf(totals).mean / sites,
    },
    failures: {
      mean: meanFigure(failureTotals),
      p10: quantileFigure(failureTotals, 0.1),
      p90: quantileFigure(failureTotals, 0.9),
    },
    lostKwh: { mean: meanFigure(lostKwh), p90: quantileFigure(lostKwh, 0.9) },
    reserve: reserveOf(cash, head, sites),
    ...yearFigures(cash, failures, sums.column('visits'), draws),
    firstSites: head.firstSites,
    expectedBills: expectedBills(cash, sums.column('siteCash'), draws, years),
    diversification: diversificationOf(head, sums),
    spread: spreadOf(
      totals,
      rowSums(
        sums.column('independentCash').map(cents => cents / 100),
        draws,
        years,
      ),
      sums.singleVariance[0] ?? 0n,
    ),
    models: modelsOf(head, sums, totals),
    warranties: warrantiesOf(head, sums, totals),
    leftOut: head.leftOut,
    notes: notesOf(head),
  }
  checkFinite(results, 'fleet')
  return results
}

/**
 * Sums of rows.
 *
 * @param column - draws × years, row-major
 * @param draws - rows
 * @param years - columns
 */
export function rowSums(column: Float64Array, draws: number, years: number): Float64Array {
  return Float64Array.from({ length: draws }, (_, draw) => {
    let sum = 0
    for (let year = 0; year < years; year++) sum += column[draw * years + year] ?? 0
    return sum
  })
}

/** Next year, in the next five, to the horizon. */
function expectedBills(
  cash: Float64Array,
  ofSites: Float64Array,
  draws: number,
  years: number,
): FleetResults['expectedBills'] {
  const bills = (place: number, until: number): ExpectedBills => ({
    pooled: meanFigure(
      Float64Array.from({ length: draws }, (_, draw) =>
        cash.subarray(draw * years, draw * years + Math.min(until, years)).reduce((sum, amount) => sum + amount, 0),
      ),
    ),
    sumOfSites: Math.round((ofSites[place] ?? 0) / draws) / 100,
  })
  return { nextYear: bills(0, 1), nextFiveYears: bills(1, 5), toHorizon: bills(2, years) }
}

function reserveOf(cash: Float64Array, head: Part['head'], sites: number): FleetResults['reserve'] {
  const { draws, years } = head.shape
  const meanCash = meanByYear(cash, draws)
  const { interest, opening, confidence, inflation } = head.facts.reserve
  const factors = new ReserveFactors(head.facts.reserve, years)
  const rows = Array.from({ length: draws }, (_, draw) => cash.subarray(draw * years, (draw + 1) * years))
  const needs = Float64Array.from(rows, row => factors.need(row))
  const contribution = quantileFigure(needs, confidence)
  return {
    confidence,
    interest,
    opening,
    contributionAt: {
      '50': quantileFigure(needs, 0.5),
      '80': quantileFigure(needs, 0.8),
      '90': quantileFigure(needs, 0.9),
    },
    contributionPerYear: contribution,
    contributionPerSite: sites === 0 ? 0 : contribution.value / sites,
    ...shortOf(rows, contribution.value, head.facts.reserve),
    readyAhead: meanCash.map((_, year) =>
      READY_AHEAD.reduce((sum, share, i) => sum + share * (meanCash[year + 1 + i] ?? 0), 0),
    ),
    fixedInMoney:
      inflation === null
        ? null
        : (quantiles(
            Float64Array.from(rows, row => factors.need(row, true)),
            [confidence],
          )[0] ?? 0),
  }
}

/** How often and how deep the account is short under a contribution (R3). */
function shortOf(
  rows: readonly Float64Array[],
  contribution: number,
  { interest, opening }: { readonly interest: number; readonly opening: number },
): Pick<FleetResults['reserve'], 'chanceShort' | 'meanShortfall' | 'firstShortYear'> {
  // the contribution is itself the need of a draw: rounding must not call that draw short
  const rounding = 1e-9 * (1 + contribution * (rows[0]?.length ?? 0))
  const firstYears: number[] = []
  let shortfall = 0
  for (const row of rows) {
    let balance = opening
    let deepest = 0
    let first = -1
    row.forEach((amount, year) => {
      balance = balance * (year === 0 ? 1 : 1 + interest) + contribution - amount
      if (balance >= -rounding) return
      if (first < 0) first = year
      deepest = Math.min(deepest, balance)
    })
    if (first < 0) continue
    firstYears.push(first)
    shortfall -= deepest
  }
  const short = firstYears.length
  return {
    chanceShort: short / rows.length,
    meanShortfall: short === 0 ? 0 : shortfall / short,
    firstShortYear: short === 0 ? null : (quantiles(Float64Array.from(firstYears), [0.5])[0] ?? null),
  }
}

function spreadOf(totals: Float64Array, independent: Float64Array, singleVariance: bigint): FleetResults['spread'] {
  const pooledVariance = varianceOf(momentsOf(totals))
  const alone = Number(singleVariance) / 10_000
  return {
    pooled: deviationFigure(totals),
    withoutCommonCause: deviationFigure(independent),
    ifSitesWereIndependent: Math.sqrt(alone),
    commonCauseShare: pooledVariance === 0 ? null : Math.max(0, 1 - alone / pooledVariance),
  }
}

function notesOf({ facts }: Part['head']): FleetResults['notes'] {
  const notes: { code: string; text: string }[] = []
  if (facts.uncountedSurvivors)
    notes.push({
      code: 'survivors-not-counted',
      text: 'Survivors are not counted as evidence; use fit. Units older than new have no none_failed_so_far, so how good their model is stays as unknown as before.',
    })
  const { sites, takenAs } = facts.unknownAges
  if (sites > 0)
    notes.push({
      code: 'ages-unknown',
      text: `The age of ${sites === 1 ? '1 site is' : `${sites} sites is`} not known; ${sites === 1 ? 'it is' : 'they are'} taken to be ${takenAs}.`,
    })
  if (facts.ignoredColumns.length > 0)
    notes.push({
      code: 'ignored-columns',
      text: `Columns left out as the fleet file asks: ${facts.ignoredColumns.join(', ')}.`,
    })
  return notes
}

function checkFinite(value: unknown, path: string): void {
  if (typeof value === 'number' && !Number.isFinite(value)) throw new NonFiniteError('F7', path)
  if (typeof value !== 'object' || value === null) return
  for (const [key, child] of Object.entries(value)) checkFinite(child, `${path}.${key}`)
}
