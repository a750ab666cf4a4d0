import type { ComponentKind } from './topology.ts'

/** Kinds that turn sunlight into alternating current. */
export const SUN_INVERTER_KINDS = ['string-inverter', 'hybrid-inverter', 'panel-level-unit'] as const

/** One of the kinds that turn sunlight into alternating current. */
export type SunInverterKind = (typeof SUN_INVERTER_KINDS)[number]

/** Whether a kind turns sunlight into alternating current. */
export function isSunInverter(kind: ComponentKind): kind is SunInverterKind {
  return SUN_INVERTER_KINDS.some(known => known === kind)
}
