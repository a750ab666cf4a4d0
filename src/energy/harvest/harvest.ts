import type { Option } from '../../scenario/model.ts'
import { TOPOLOGIES } from '../../topologies/index.ts'
import type { Tracking } from '../../topologies/topology.ts'
import type { RoofYear } from '../roof-year.ts'
import type { ConversionCurve } from './conversion-curve.ts'
import { harvestByPanel } from './harvest-by-panel.ts'
import { harvestByString } from './harvest-by-string.ts'

/** Equal devices that turn DC into AC and limit it, each with the same DC power. */
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

/** How panels are harvested, by tracking of the topology (E4–E6). */
const HARVESTS = {
  string: harvestByString,
  'all-optimisers': harvestByString,
  'some-optimisers': harvestByString,
  panel: harvestByPanel,
} as const satisfies Record<
  Tracking,
  (roof: RoofYear, option: Option, fitted: readonly (readonly boolean[])[]) => Harvest
>

/**
 * What an option draws from the roof before its inverters (E4–E6).
 *
 * @param roof - the roof
 * @param option - the option
 * @param fitted - array × panel: which have optimisers
 * @returns its devices with their DC power in year 0
 */
export function harvestOf(roof: RoofYear, option: Option, fitted: readonly (readonly boolean[])[]): Harvest {
  return HARVESTS[TOPOLOGIES[option.topology].tracking](roof, option, fitted)
}
