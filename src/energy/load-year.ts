import { bisect } from '../numerics/bisection.ts'
import type { Load } from '../scenario/roof.ts'
import { DAYS_OF_MONTH, DAYS_PER_YEAR, HOURS_PER_YEAR } from '../units.ts'
import { DAYS_IN_MONTH, type SkyYear } from './sky/sky-columns.ts'

/** Hours of the evening, in which a `day-evening` load is twice what it is otherwise: ours. */
const EVENING = { from: 17, to: 23, times: 2 }

/** The columns of a year that a load is given for. */
export type LoadSteps = Pick<SkyYear, 'form' | 'nSteps' | 'month' | 'solarHour' | 'slot'>

/**
 * What the household draws at each step (C5), kW. An hourly load meets an hourly sky hour by hour; on a synthetic year
 * the days of each month are assigned to its 15 days in turn, so that high and low days are both kept.
 *
 * @param load - the load
 * @param steps - the year it is given for
 * @returns kW, a value a step
 */
export function loadKw(load: Load, steps: LoadSteps): Float64Array {
  const out = new Float64Array(steps.nSteps)
  const hourly = load.form === 'hourly' ? load.hourlyKwh : null
  const assigned = hourly !== null && steps.form === 'synthetic' ? assignDays(hourly) : null
  for (let step = 0; step < steps.nSteps; step++) {
    const solarHour = steps.solarHour[step] ?? 0
    const slot = steps.slot[step] ?? 0
    if (load.form === 'flat') out[step] = load.annualKwh / HOURS_PER_YEAR
    else if (load.form === 'day-evening') out[step] = dayEveningKw(load.annualKwh, solarHour)
    else if (assigned !== null) {
      const place = ((steps.month[step] ?? 0) * DAYS_IN_MONTH + slot) * 24 + Math.floor(solarHour)
      out[step] = assigned[place] ?? 0
    } else out[step] = hourly?.[slot] ?? 0
  }
  return out
}

function dayEveningKw(annualKwh: number, solarHour: number): number {
  const eveningHours = EVENING.to - EVENING.from
  const base = annualKwh / DAYS_PER_YEAR / (24 - eveningHours + EVENING.times * eveningHours)
  return solarHour >= EVENING.from && solarHour < EVENING.to ? EVENING.times * base : base
}

/** Mean of every 15th day from the first, the second, …: month × day × hour, scaled to keep the month's energy. */
function assignDays(hourlyKwh: Float64Array): Float64Array {
  const out = new Float64Array(DAYS_OF_MONTH.length * DAYS_IN_MONTH * 24)
  let firstHour = 0
  DAYS_OF_MONTH.forEach((days, month) => {
    let monthKwh = 0
    let assignedKwh = 0
    const at = (slot: number, hour: number): number => (month * DAYS_IN_MONTH + slot) * 24 + hour
    for (let slot = 0; slot < DAYS_IN_MONTH; slot++) {
      for (let hour = 0; hour < 24; hour++) {
        let sum = 0
        let n = 0
        for (let day = slot; day < days; day += DAYS_IN_MONTH) {
          sum += hourlyKwh[firstHour + day * 24 + hour] ?? 0
          n++
        }
        out[at(slot, hour)] = sum / n
        monthKwh += sum
        assignedKwh += ((sum / n) * days) / DAYS_IN_MONTH
      }
    }
    const scale = assignedKwh > 0 ? monthKwh / assignedKwh : 0
    for (let place = at(0, 0); place < at(DAYS_IN_MONTH, 0); place++) out[place] = (out[place] ?? 0) * scale
    firstHour += days * 24
  })
  return out
}

/**
 * A flat load by month that makes a given share of the energy self-used, where no load is given but an export limit
 * needs one. A substitute of ours: losses to the limit are right within about ±5 points.
 *
 * @param suppliedKw - power at the meter, a value a step
 * @param steps - months and hours of the steps
 * @param selfConsumed - share of each month, [0, 1], January first
 * @returns kW, a value a step
 */
export function impliedLoadKw(
  suppliedKw: Float64Array,
  steps: Pick<SkyYear, 'nSteps' | 'month' | 'hours'>,
  selfConsumed: readonly number[],
): Float64Array {
  let highest = 0
  for (const kw of suppliedKw) highest = Math.max(highest, kw)
  const level = selfConsumed.map((share, month) => {
    const ofMonth: number[] = []
    for (let step = 0; step < steps.nSteps; step++) if (steps.month[step] === month) ofMonth.push(step)
    const kw = Float64Array.from(ofMonth, step => suppliedKw[step] ?? 0)
    const hours = Float64Array.from(ofMonth, step => steps.hours[step] ?? 0)
    let all = 0
    for (let i = 0; i < kw.length; i++) all += (kw[i] ?? 0) * (hours[i] ?? 0)
    const usesLess = (levelKw: number): boolean => {
      let used = 0
      for (let i = 0; i < kw.length; i++) used += Math.min(kw[i] ?? 0, levelKw) * (hours[i] ?? 0)
      return used < share * all
    }
    return bisect(0, highest, 40, usesLess).high
  })
  return Float64Array.from({ length: steps.nSteps }, (_, step) => level[steps.month[step] ?? 0] ?? 0)
}
