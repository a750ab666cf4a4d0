import { NonFiniteError } from '../../errors.ts'
import { momentsOf, varianceOf } from '../../numerics/samples/moments.ts'
import { sumOf } from '../../numerics/sum.ts'
import type { ExpectedBills, FleetResults } from '../fleet-results.ts'
import type { Part } from '../part-file.ts'
import { diversificationOf } from './diversification.ts'
import { deviationFigure, meanFigure, quantileFigure } from './figures.ts'
import { fleetReserveOf } from './reserve-figures.ts'
import { modelsOf, warrantiesOf } from './risk-carriers.ts'
import { meanByYear, yearFigures } from './year-figures.ts'

/**
 * What the sums of a whole fleet say (F7). A function of whole numbers alone: the same sums give the same bytes.
 *
 * @param part - the one part, or all parts joined
 * @param tool - name and version
 * @returns the content of fleet.json
 * @throws NonFiniteError if a figure is not finite
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
    failuresByEffect: byEffect(failureTotals, sums, draws, years),
    lostKwh: { mean: meanFigure(lostKwh), p90: quantileFigure(lostKwh, 0.9) },
    reserve: fleetReserveOf(cash, head, sites),
    later: laterOf(head, sums),
    ...yearFigures(cash, failures, sums.column('monitoringFailures'), sums.column('visits'), draws),
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

/** Failures by what they stop: energy, monitoring alone, the battery alone. */
function byEffect(
  all: Float64Array,
  sums: Part['sums'],
  draws: number,
  years: number,
): FleetResults['failuresByEffect'] {
  const monitoring = rowSums(sums.column('monitoringFailures'), draws, years)
  const battery = rowSums(sums.column('batteryFailures'), draws, years)
  return {
    stopEnergy: meanFigure(all.map((count, draw) => count - (monitoring[draw] ?? 0) - (battery[draw] ?? 0))),
    monitoringOnly: meanFigure(monitoring),
    batteryOnly: meanFigure(battery),
  }
}

/** What may be bought later, all sites together (C8). */
function laterOf({ facts, shape }: Part['head'], sums: Part['sums']): FleetResults['later'] {
  const sites = sums.column('laterSites')[0] ?? 0
  if (sites === 0) return null
  const { draws, years } = shape
  const cash = sums.column('laterCash').map(cents => cents / 100)
  const totals = rowSums(cash, draws, years)
  return {
    names: facts.laterNames,
    sites,
    bought: meanFigure(sums.column('laterBought')),
    cost: { mean: meanFigure(totals), p90: quantileFigure(totals, 0.9) },
    costByYear: meanByYear(cash, draws),
  }
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
        sumOf(cash.subarray(draw * years, draw * years + Math.min(until, years))),
      ),
    ),
    sumOfSites: Math.round((ofSites[place] ?? 0) / draws) / 100,
  })
  return { nextYear: bills(0, 1), nextFiveYears: bills(1, 5), toHorizon: bills(2, years) }
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
      text: 'Survivors are not counted as evidence; use fit. Units older than new have no none_failed_so_far, so their age says nothing about their model.',
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
