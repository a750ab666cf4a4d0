import type { SkyYear } from './sky-year.ts'

/** One step of a year of light before it is stored in columns. */
export interface SkyStep {
  readonly month: number
  readonly solarHour: number
  readonly hours: number
  readonly slot: number
  readonly cosZenith: number
  readonly sunAzimuthDegrees: number
  readonly globalWM2: number
  readonly diffuseWM2: number
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
  const column = (value: (step: SkyStep) => number): Float64Array => Float64Array.from(steps, value)
  return {
    form,
    nSteps: steps.length,
    month: Uint8Array.from(steps, step => step.month),
    solarHour: column(step => step.solarHour),
    hours: column(step => step.hours),
    slot: Uint16Array.from(steps, step => step.slot),
    cosZenith: column(step => step.cosZenith),
    sunAzimuthDegrees: column(step => step.sunAzimuthDegrees),
    globalWM2: column(step => step.globalWM2),
    diffuseWM2: column(step => step.diffuseWM2),
    extraterrestrialNormalWM2: column(step => step.extraterrestrialNormalWM2),
    airC: column(step => step.airC),
  }
}
