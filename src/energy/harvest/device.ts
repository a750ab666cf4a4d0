/** What an option draws from the roof, device by device. */

import type { ConversionCurve } from './conversion-curve.ts'

/** Equal devices that convert DC to AC and limit it, each with the same DC power. */
export interface Device {
  /** Index of the population in the option. */
  readonly population: number
  /** How many such devices; a fraction where panel-level units carry several panels. */
  readonly units: number
  /** AC rating of one, kW; null: never limits. */
  readonly acKw: number | null
  /** Rating the curve is stated at, kW. */
  readonly curveKw: number
  readonly curve: ConversionCurve
  /** What its panels give after shade and mismatch, kW of DC, one device, a value a step. */
  readonly harvestKw: Float64Array
  /** The same after optimisers: what reaches the device. The same column where there are none. */
  readonly dcKw: Float64Array
}

/** What an option draws from the roof (E4–E6). */
export interface Harvest {
  readonly devices: readonly Device[]
  /** Share of the option's generation by population, where the wiring decides it (O4); null: rule O4. */
  readonly populationShares: readonly (number | null)[]
}
