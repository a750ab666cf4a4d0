import { momentsOf, varianceOf } from '../../numerics/samples/moments.ts'
import type { Carrier, ModelCarrier, ValueWithError } from '../fleet-results.ts'
import type { PartHead } from '../part-file.ts'
import type { FleetSums } from '../play/fleet-sums.ts'
import { meanFigure } from './figures.ts'

/** Share of the draws that count as the worst. */
const WORST = 0.1

/**
 * Which models carry the cash and the risk of the fleet (F7); a site is counted under the model of its first component.
 *
 * @param head - of the fleet
 * @param sums - of the fleet
 * @param totals - cash of the fleet by draw, money
 */
export function modelsOf(head: PartHead, sums: FleetSums, totals: Float64Array): ModelCarrier[] {
  const { draws, years } = head.shape
  const failures = sums.column('modelFailures')
  const firsts = sums.column('modelFirstFailures')
  const struck = new Map(head.facts.modelFacts.map(fact => [fact.name, fact.struckInDraws]))
  const names = [...head.facts.namedModels, 'others']
  return carriers(names, sums.column('modelSites'), sums.column('modelCash'), totals, struck).map(
    ({ place, ...carrier }) => {
      const row = (column: Float64Array) =>
        Array.from({ length: years }, (_, year) => (column[place * years + year] ?? 0) / draws)
      const firstFailuresByYear = row(firsts)
      const most = Math.max(...firstFailuresByYear)
      const peakYear = most > 0 ? firstFailuresByYear.indexOf(most) : null
      const around = (peak: number): number =>
        [-1, 0, 1].reduce((sum, step) => sum + (firstFailuresByYear[peak + step] ?? 0), 0)
      return {
        ...carrier,
        failuresByYear: row(failures),
        firstFailuresByYear,
        peakYear,
        shareAroundPeak: peakYear === null || carrier.sites === 0 ? null : around(peakYear) / carrier.sites,
      }
    },
  )
}

/**
 * Which warranties carry the cash and the risk of the fleet (F7), by the provider behind the parts cover.
 *
 * @param head - of the fleet
 * @param sums - of the fleet
 * @param totals - cash of the fleet by draw, money
 */
export function warrantiesOf(head: PartHead, sums: FleetSums, totals: Float64Array): Carrier[] {
  const gone = new Map(head.facts.providerExits.map(fact => [fact.name, fact.goneInDraws]))
  const names = [...head.facts.namedProviders, 'others']
  return carriers(names, sums.column('providerSites'), sums.column('providerCash'), totals, gone).map(
    ({ place: _, ...carrier }) => carrier,
  )
}

function carriers(
  names: readonly string[],
  sites: Float64Array,
  cents: Float64Array,
  totals: Float64Array,
  struckIn: ReadonlyMap<string, readonly number[]>,
): (Carrier & { readonly place: number })[] {
  const draws = totals.length
  const all = momentsOf(totals)
  const variance = varianceOf(all)
  const worst = [...totals.keys()]
    .sort((a, b) => (totals[b] ?? 0) - (totals[a] ?? 0) || a - b)
    .slice(0, Math.max(1, Math.round(WORST * draws)))
  const worstCash = worst.reduce((sum, draw) => sum + (totals[draw] ?? 0), 0)
  return names.flatMap((name, place) => {
    const nSites = sites[place] ?? 0
    if (nSites === 0) return []
    const cash = cents.slice(place * draws, (place + 1) * draws).map(value => value / 100)
    const own = momentsOf(cash)
    let covariance = 0
    cash.forEach((value, draw) => {
      covariance += (value - own.mean) * ((totals[draw] ?? 0) - all.mean)
    })
    const struck = struckIn.get(name)
    return [
      {
        place,
        name,
        sites: nSites,
        meanCash: own.mean,
        meanCashStandardError: meanFigure(cash).standardError,
        shareOfCash: all.mean === 0 ? 0 : own.mean / all.mean,
        shareOfRisk: variance === 0 ? null : covariance / (draws - 1) / variance,
        shareInWorstTenth: worstCash === 0 ? 0 : worst.reduce((sum, draw) => sum + (cash[draw] ?? 0), 0) / worstCash,
        chanceStruck: struck === undefined ? null : struck.length / draws,
        dearerWhenStruck: struck === undefined ? null : differenceWhen(cash, struck),
      },
    ]
  })
}

/** Mean where struck less mean where not, with the error of a difference of two means. */
function differenceWhen(cash: Float64Array, struck: readonly number[]): ValueWithError | null {
  const set = new Set(struck)
  const hit = momentsOf(cash.filter((_, draw) => set.has(draw)))
  const spared = momentsOf(cash.filter((_, draw) => !set.has(draw)))
  if (hit.count < 2 || spared.count < 2) return null
  return {
    value: hit.mean - spared.mean,
    standardError: Math.sqrt(varianceOf(hit) / hit.count + varianceOf(spared) / spared.count),
  }
}
