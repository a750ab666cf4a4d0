/**
 * A year of irradiance on a horizontal surface, in steps in which the sun is up: every column has one value a step. Hours are solar
 * time (E1).
 */
export interface SkyYear {
  /** Built from monthly figures, or read from an hourly file (E7). */
  readonly form: 'synthetic' | 'hourly'
  readonly nSteps: number
  /** Calendar month, 0 = January. */
  readonly month: Uint8Array
  /** Middle of the step, hours of solar time. */
  readonly solarHour: Float64Array
  /** How many hours of the year the step represents. */
  readonly hours: Float64Array
  /** Which day of the month the step belongs to (synthetic, from 0), or which hour of the year (hourly, from 0). */
  readonly slot: Uint16Array
  readonly cosZenith: Float64Array
  readonly sunAzimuthDegrees: Float64Array
  readonly ghiWM2: Float64Array
  readonly dhiWM2: Float64Array
  readonly extraterrestrialNormalWM2: Float64Array
  readonly airC: Float64Array
}

/** Days that represent a month in a built year. Ours: clipping of 0 to 6 % is within 0.03 points of that with 60. */
export const DAYS_IN_MONTH = 15

/** One step of a year of light before it is stored in columns. */
export interface SkyStep {
  readonly month: number
  readonly solarHour: number
  readonly hours: number
  readonly slot: number
  readonly cosZenith: number
  readonly sunAzimuthDegrees: number
  readonly ghiWM2: number
  readonly dhiWM2: number
  readonly extraterrestrialNormalWM2: number
  readonly airC: number
}

/**
 * Steps stored column by column.
 *
 * @param form - where the steps come from
 * @param steps - in any order
 * @returns the year
 */
export function skyColumns(form: SkyYear['form'], steps: readonly SkyStep[]): SkyYear {
  const nSteps = steps.length
  const year = {
    form,
    nSteps,
    month: new Uint8Array(nSteps),
    solarHour: new Float64Array(nSteps),
    hours: new Float64Array(nSteps),
    slot: new Uint16Array(nSteps),
    cosZenith: new Float64Array(nSteps),
    sunAzimuthDegrees: new Float64Array(nSteps),
    ghiWM2: new Float64Array(nSteps),
    dhiWM2: new Float64Array(nSteps),
    extraterrestrialNormalWM2: new Float64Array(nSteps),
    airC: new Float64Array(nSteps),
  }
  // one loop: filling each column by itself from a list of objects costs three times as much
  for (let i = 0; i < nSteps; i++) {
    const step = steps[i]
    if (step === undefined) continue
    year.month[i] = step.month
    year.solarHour[i] = step.solarHour
    year.hours[i] = step.hours
    year.slot[i] = step.slot
    year.cosZenith[i] = step.cosZenith
    year.sunAzimuthDegrees[i] = step.sunAzimuthDegrees
    year.ghiWM2[i] = step.ghiWM2
    year.dhiWM2[i] = step.dhiWM2
    year.extraterrestrialNormalWM2[i] = step.extraterrestrialNormalWM2
    year.airC[i] = step.airC
  }
  return year
}
