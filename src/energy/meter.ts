import type { Option, Site } from '../scenario/model.ts'
import { middle } from '../scenario/quantity.ts'
import { isSunInverter } from '../topologies/kinds.ts'
import { MONTHS_PER_YEAR } from '../units.ts'
import type { Meter } from './harvest/delivery.ts'
import { impliedLoadKw, loadKw } from './load-year.ts'
import type { SkyYear } from './sky/sky-columns.ts'

/** Share of the DC energy that an ordinary inverter passes on; used only to size a substitute load: ours. */
const ORDINARY_CONVERSION = 0.96

/** The household at the meter, the same for every option. */
export interface Household {
  readonly loadKw: Float64Array | null
  /** Whether the load is given; else it is a substitute (see `impliedLoadKw`) or absent. */
  readonly loadKnown: boolean
}

/** The columns of a year that a household's load is given for. */
export type HouseholdSteps = Pick<SkyYear, 'form' | 'nSteps' | 'month' | 'solarHour' | 'slot' | 'hours'>

/**
 * What the household draws (C5): as given; a substitute from `self_consumed` where only an export limit needs it; else
 * nothing.
 *
 * @param site - load, self-consumption, network
 * @param steps - the year
 * @param dcKw - power the roof could give, a value a step
 * @returns the load by step
 */
export function householdOf(site: Site, steps: HouseholdSteps, dcKw: Float64Array): Household {
  if (site.load !== undefined) return { loadKw: loadKw(site.load, steps), loadKnown: true }
  if (site.network.exportLimitKw === null) return { loadKw: null, loadKnown: false }
  const { selfConsumed } = site.energyValue
  const shares =
    typeof selfConsumed === 'object' && 'length' in selfConsumed
      ? selfConsumed
      : new Array<number>(MONTHS_PER_YEAR).fill(middle(selfConsumed))
  const supplied = dcKw.map(kw => kw * ORDINARY_CONVERSION)
  return { loadKw: impliedLoadKw(supplied, steps, shares), loadKnown: false }
}

/**
 * What lies between an option and the meter (E2, C5).
 *
 * @param site - network
 * @param option - its inverters decide which phases it feeds
 * @param household - the load
 * @param acWiringLoss - share lost between inverter and meter
 * @returns the meter of the option
 */
export function meterOf(site: Site, option: Option, household: Household, acWiringLoss: number): Meter {
  return {
    loadKw: household.loadKw,
    loadReach: loadReach(site, option),
    exportLimitKw: site.network.exportLimitKw,
    acWiringLoss,
  }
}

/**
 * Part of the household's load that an option can meet at once. A meter that nets across phases sees all of it; else
 * inverters on one phase reach the third of a three-phase load that is on their phase, taken as spread evenly.
 *
 * @param site - phases, netting
 * @param option - its inverters
 * @returns 1/3, 2/3 or 1
 */
export function loadReach(site: Site, option: Option): number {
  const { phases, netsAcrossPhases, acLimitKwPerPhase } = site.network
  if (phases === 1 || netsAcrossPhases) return 1
  let reached = 0
  for (const population of option.populations) {
    if (!isSunInverter(population.kind)) continue
    const overOnePhase = acLimitKwPerPhase !== null && (population.acKw ?? 0) > acLimitKwPerPhase
    reached += population.count * (population.phases ?? (overOnePhase ? 3 : 1))
  }
  return Math.min(1, Math.max(1, reached) / 3)
}
