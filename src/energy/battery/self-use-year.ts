import type { BatterySize } from '../../scenario/model.ts'
import type { Meter, PowerOnItsWay } from '../harvest/delivery.ts'
import type { DayGrid } from './day-grid.ts'

/** Energy that a battery moves in a year, kWh. */
export interface SelfUse {
  readonly dischargedKwh: number
  readonly unsoldKwh: number
}

/**
 * A year of greedy self-use (O7): at every step the battery charges from the surplus, first from what would be lost
 * (clipped, over the export limit), then from what would be sold; it discharges into what the household lacks. The year
 * is played twice, and the second time counts: it begins with what the first left in the battery.
 *
 * @param grid - all steps of the year, night included
 * @param on - power of the option, a value a step of light
 * @param loadKw - of the household, a value a step of the grid
 * @param meter - wiring, export limit, part of the load within reach
 * @param battery - size
 * @returns what went through it in a year
 */
export function selfUseYear(
  grid: DayGrid,
  on: Pick<PowerOnItsWay, 'unlimitedKw' | 'limitedKw'>,
  loadKw: Float64Array,
  meter: Meter,
  battery: Omit<BatterySize, 'panelsKw'>,
): SelfUse {
  const wired = 1 - meter.acWiringLoss
  const exportKw = meter.exportLimitKw ?? Number.POSITIVE_INFINITY
  const { kwh, kw, roundTrip, dcCoupled } = battery
  let storedKwh = 0
  let dischargedKwh = 0
  let unsoldKwh = 0
  for (let round = 0; round < 2; round++) {
    dischargedKwh = 0
    unsoldKwh = 0
    for (let step = 0; step < grid.nSteps; step++) {
      const light = grid.light[step] ?? -1
      const givenKw = light < 0 ? 0 : (on.limitedKw[light] ?? 0) * wired
      const clippedKw = light < 0 || !dcCoupled ? 0 : (on.unlimitedKw[light] ?? 0) * wired - givenKw
      const load = (loadKw[step] ?? 0) * meter.loadReach
      const overKw = Math.max(0, givenKw - load)
      if (overKw > 0 || clippedKw > 0) {
        const room = (kwh - storedKwh) / roundTrip / grid.stepHours
        const takenKw = Math.min(overKw + clippedKw, kw, room)
        const freeKw = clippedKw + Math.max(0, overKw - exportKw)
        storedKwh += takenKw * roundTrip * grid.stepHours
        unsoldKwh += Math.max(0, takenKw - freeKw) * grid.stepHours * (grid.times[step] ?? 0)
      } else {
        const out = Math.min(load - givenKw, kw, storedKwh / grid.stepHours)
        storedKwh -= out * grid.stepHours
        dischargedKwh += out * grid.stepHours * (grid.times[step] ?? 0)
      }
    }
  }
  return { dischargedKwh, unsoldKwh }
}
