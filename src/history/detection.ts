import { delayYears } from './delays.ts'
import { FATE } from './fate.ts'
import type { Slot } from './slot.ts'

/**
 * When a failure is detected (O2): after the monitored time if monitoring works, else at the earlier of the
 * unmonitored time and the return of monitoring plus the monitored time, both at one quantile.
 *
 * @param slot - down, with its fate drawn
 * @param failedAt - moment of the failure, years
 * @param monitoredFrom - from `Monitoring.worksFrom`; ignored for a gateway, which is found by its own delay
 * @returns moment of detection, years
 */
export function detectionAt(slot: Slot, failedAt: number, monitoredFrom: number): number {
  const { unit, fate } = slot
  const monitored = delayYears(unit.detect, fate[FATE.detect] ?? 0)
  if (unit.isGateway || monitoredFrom === failedAt) return failedAt + monitored
  const unmonitored = failedAt + delayYears(unit.detectUnmonitored, fate[FATE.detect] ?? 0)
  return Math.min(unmonitored, monitoredFrom + monitored)
}
