import type { Option, Site } from '../../scenario/model.ts'
import { MONTHS_PER_YEAR } from '../../units.ts'
import type { Calendar } from '../calendar.ts'
import type { Meter, PowerOnItsWay } from '../harvest/delivery.ts'
import { type LoadSteps, loadKw } from '../load-year.ts'
import type { BatteryYear } from './battery-year.ts'
import { dayGrid } from './day-grid.ts'
import { addedSelfConsumption } from './published-points.ts'
import { selfUseYear } from './self-use-year.ts'

/**
 * What an option's battery moves in the first year, from the published points (O7).
 *
 * @param option - the option
 * @param deliverableKwh - what the option delivers, months from the start
 * @param calendar - months of the horizon
 * @returns null where no worth is to be computed, or the size of the roof is not known
 */
export function batteryByPoints(option: Option, deliverableKwh: Float64Array, calendar: Calendar): BatteryYear | null {
  const worth = option.battery?.worth
  if (worth?.form !== 'computed' || worth.panelsKw === null || worth.panelsKw <= 0) return null
  const monthKwh = new Float64Array(MONTHS_PER_YEAR)
  for (let i = 0; i < MONTHS_PER_YEAR; i++) monthKwh[calendar.calendarMonth[i] ?? 0] = deliverableKwh[i] ?? 0
  const addedShare = addedSelfConsumption(worth.kwh / worth.panelsKw)
  return { form: 'points', addedShare, monthKwh, roundTrip: worth.roundTrip }
}

/**
 * The same where the option is played hour by hour: by greedy self-use where the household's load is known, else from
 * the published points.
 *
 * @param option - the option
 * @param site - its load
 * @param steps - the year of light
 * @param on - power of the option in the first year
 * @param meter - wiring, export limit, reach
 * @param deliverableKwh - what the option delivers, months from the start
 * @param calendar - months of the horizon
 * @returns null where no worth is to be computed
 */
export function batteryByHours(
  option: Option,
  site: Site,
  steps: LoadSteps,
  on: () => PowerOnItsWay,
  meter: Meter,
  deliverableKwh: Float64Array,
  calendar: Calendar,
): BatteryYear | null {
  const worth = option.battery?.worth
  if (worth?.form !== 'computed') return null
  if (site.load === undefined) return batteryByPoints(option, deliverableKwh, calendar)
  const grid = dayGrid(steps)
  return { form: 'played', ...selfUseYear(grid, on(), loadKw(site.load, grid), meter, worth) }
}
