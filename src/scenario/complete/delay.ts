import type * as z from 'zod'
import { findFigure } from '../../evidence/index.ts'
import type { Delay } from '../model/population.ts'
import { middle } from '../quantity.ts'
import type { downtimeBlock } from '../schema/component.ts'
import type { ComponentPlace } from './component-place.ts'

type GivenDowntime = z.output<typeof downtimeBlock>

/** The four delays of an outage by their keys (O1). */
export type DelayKey = 'detect_days' | 'detect_days_unmonitored' | 'respond_days' | 'repair_days'

/**
 * One delay, complete: given, else that of the evidence row (O1).
 *
 * @param at - the component
 * @param key - which delay
 * @param read - whether it can ever be read here (U1)
 * @returns days, fixed or lognormal
 */
export function completeDelay(at: ComponentPlace, key: DelayKey, read: boolean): Delay {
  const given: GivenDowntime[DelayKey] = at.given.downtime?.[key]
  const asked = { scale: 'log' as const, read }
  if (given === undefined) return evidenceDelay(at, key)
  if (typeof given === 'number' || !('p90' in given))
    return { medianDays: at.quantity({ ...asked, key: `downtime.${key}`, given }), p90OverMedian: 1 }
  const medianDays = at.quantity({
    ...asked,
    key: `downtime.${key}.median`,
    figureKey: `downtime.${key}`,
    given: given.median,
  })
  const p90 = at.value(`downtime.${key}.p90`, given.p90)
  return { medianDays, p90OverMedian: p90 / middle(medianDays) }
}

/** Delays of the evidence are chance, without a range. */
function evidenceDelay(at: ComponentPlace, key: DelayKey): Delay {
  if (findFigure(at.row, `downtime.${key}.median`) === null)
    return { medianDays: at.value(`downtime.${key}`, undefined), p90OverMedian: 1 }
  const median = at.value(`downtime.${key}.median`, undefined)
  const p90 = at.value(`downtime.${key}.p90`, undefined)
  return { medianDays: median, p90OverMedian: p90 / median }
}
