import type { FleetResults, ValueWithError as Simulated } from '../../fleet/fleet-results.ts'
import type { MarginNote } from '../content.ts'
import { formatMoney } from '../format/money.ts'
import { formatNumber, roundingStep } from '../format/number.ts'
import { formatYears } from '../format/quantity.ts'
import { plainName } from '../names.ts'

/** Results of a fleet with what every section needs. */
export interface FleetView {
  readonly results: FleetResults
  readonly horizonYears: number
  /** The horizon in words: `25 years`, `1 year`. */
  readonly horizon: string
  /** An amount rounded by its own error; without one, to two digits. */
  money(value: number | Simulated): string
  /** The same without the currency, for tables that name it. */
  bare(value: number | Simulated): string
  /** A number of units or a quantity, rounded likewise, no finer than a step. */
  count(value: number | Simulated, finest?: number): string
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
      ? formatMoney(value, null, currency)
      : formatMoney(value.value, value.standardError, currency)
  return {
    results,
    horizonYears,
    horizon: formatYears(horizonYears),
    money,
    bare: value => money(value).replace(/^\S+\s/u, ''),
    count: (value, finest = 1) => {
      const { value: amount, standardError } = typeof value === 'number' ? { value, standardError: null } : value
      return formatNumber(amount, roundingStep(amount, standardError, finest))
    },
    name: plainName,
    sites: count => `${formatNumber(count, 1)}\u00a0${count === 1 ? 'site' : 'sites'}`,
  }
}

/**
 * A figure of all sites, for each of them.
 *
 * @param figure - of all
 * @param sites - how many
 */
export function each(figure: Simulated, sites: number): Simulated {
  const share = 1 / Math.max(sites, 1)
  return { value: figure.value * share, standardError: figure.standardError * share }
}

/** Where the figures of a fleet come from, next to the first finding. */
export const FROM_TEMPLATE: MarginNote = {
  known: 'Yours',
  text: 'Sites, prices and terms are those of your table and template. What they leave out is filled from evidence: lifetally check with the template lists every figure and its source.',
}

/** The same, next to the other findings. */
export const AS_ABOVE: MarginNote = { known: 'Yours', text: 'Sites, prices and terms, as for finding\u00a01.' }

/** How well the rates of failure are known. */
export const FAILURES_KNOWN: MarginNote = {
  known: 'Judgement',
  text: 'How often a model fails is known only as a range unless the template says it.',
}
