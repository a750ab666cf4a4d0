import type { FleetResults, Figure as Simulated } from '../../fleet/fleet-results.ts'
import type { MarginNote } from '../content.ts'
import { formatMoney, formatNumber } from '../format.ts'
import { plainName } from '../names.ts'

/** Results of a fleet with what every section needs. */
export interface FleetView {
  readonly results: FleetResults
  readonly horizonYears: number
  /** An amount; a simulated figure is rounded by its own error. */
  money(value: number | Simulated): string
  /** The same without the currency, for tables that name it. */
  bare(value: number | Simulated): string
  count(value: number): string
  name(text: string): string
  /** e.g. `5,000 sites`, `1 site`. */
  sites(count: number): string
}

/**
 * Prepares results for the sections.
 *
 * @param results - of the fleet
 */
export function fleetViewOf(results: FleetResults): FleetView {
  const { currency, horizonYears } = results.fleet
  const money = (value: number | Simulated): string =>
    typeof value === 'number'
      ? formatMoney(value, Math.abs(value) / 200, currency)
      : formatMoney(value.value, value.standardError, currency)
  return {
    results,
    horizonYears,
    money,
    bare: value => money(value).replace(/^\S+\s/u, ''),
    count: value => formatNumber(value, value < 10 ? 0.1 : 1),
    name: plainName,
    sites: count => `${formatNumber(count, 1)}\u00a0${count === 1 ? 'site' : 'sites'}`,
  }
}

/** Where the figures of a fleet come from, beside each finding. */
export const FROM_TEMPLATE: MarginNote = {
  known: 'Yours',
  text: 'Sites, prices and terms are those of your table and template. What they leave out is filled from evidence: lifetally check with the template lists every figure and its source.',
}

/** How well the rates of failure are known. */
export const FAILURES_KNOWN: MarginNote = {
  known: 'Judgement',
  text: 'How often a model fails is known only as a range unless the template says it; the range is played once for all sites of the model.',
}
