import { type ComponentKind, kindOf } from '../../topologies/kinds.ts'

/** What a failure stops: energy of the roof, monitoring alone, the battery alone. */
export const FAILURE_EFFECTS = ['stopEnergy', 'monitoringOnly', 'batteryOnly'] as const

/** One of the effects. */
export type FailureEffect = (typeof FAILURE_EFFECTS)[number]

/** By effect, the column of the year in which the first such failure of a lifetime falls. */
export const FIRST_BY_EFFECT = {
  stopEnergy: 'firstStopsEnergy',
  monitoringOnly: 'firstMonitoringOnly',
  batteryOnly: 'firstBatteryOnly',
} as const satisfies Record<FailureEffect, string>

/**
 * What a failure of a unit of some kind stops.
 *
 * @param kind - of the component
 */
export function effectOf(kind: ComponentKind): FailureEffect {
  switch (kindOf(kind).role) {
    case 'nothing':
      return 'monitoringOnly'
    case 'battery':
    case 'battery-inverter':
      return 'batteryOnly'
    default:
      return 'stopEnergy'
  }
}
