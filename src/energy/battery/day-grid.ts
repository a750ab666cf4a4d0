import { DAYS_OF_MONTH, HOURS_PER_YEAR } from '../../units.ts'
import type { LoadSteps } from '../load-year.ts'
import { DAYS_IN_MONTH } from '../sky/sky-columns.ts'

/** Half-hours of a day of a built year. */
const HALF_HOURS = 48

/** All steps of a year one after another, day and night. A year of light has only those with the sun up. */
export interface DayGrid extends LoadSteps {
  readonly stepHours: number
  /** Step of the year of light; −1: the sun is down. */
  readonly light: Int32Array
  /** How many such steps of the year each represents. */
  readonly times: Float64Array
}

/**
 * The whole days around a year of light, so that a battery can be followed through the night.
 *
 * @param steps - the year of light; synthetic: 15 days a month by half-hours; hourly: by hours
 * @returns 8,640 half-hours or 8,760 hours
 */
export function dayGrid(steps: LoadSteps): DayGrid {
  return steps.form === 'hourly' ? hours(steps) : halfHours(steps)
}

function hours(steps: LoadSteps): DayGrid {
  const n = HOURS_PER_YEAR
  const month = new Uint8Array(n)
  let hour = 0
  DAYS_OF_MONTH.forEach((days, index) => {
    month.fill(index, hour, hour + days * 24)
    hour += days * 24
  })
  const light = new Int32Array(n).fill(-1)
  for (let step = 0; step < steps.nSteps; step++) light[steps.slot[step] ?? 0] = step
  return {
    form: 'hourly',
    nSteps: n,
    month,
    solarHour: Float64Array.from({ length: n }, (_, i) => (i % 24) + 0.5),
    slot: Uint16Array.from({ length: n }, (_, i) => i),
    stepHours: 1,
    light,
    times: new Float64Array(n).fill(1),
  }
}

function halfHours(steps: LoadSteps): DayGrid {
  const perMonth = DAYS_IN_MONTH * HALF_HOURS
  const n = DAYS_OF_MONTH.length * perMonth
  const light = new Int32Array(n).fill(-1)
  for (let step = 0; step < steps.nSteps; step++) {
    const half = Math.floor((steps.solarHour[step] ?? 0) * 2)
    light[(steps.month[step] ?? 0) * perMonth + (steps.slot[step] ?? 0) * HALF_HOURS + half] = step
  }
  return {
    form: 'synthetic',
    nSteps: n,
    month: Uint8Array.from({ length: n }, (_, i) => Math.floor(i / perMonth)),
    solarHour: Float64Array.from({ length: n }, (_, i) => ((i % HALF_HOURS) + 0.5) / 2),
    slot: Uint16Array.from({ length: n }, (_, i) => Math.floor((i % perMonth) / HALF_HOURS)),
    stepHours: 0.5,
    light,
    times: Float64Array.from({ length: n }, (_, i) => (DAYS_OF_MONTH[Math.floor(i / perMonth)] ?? 0) / DAYS_IN_MONTH),
  }
}
