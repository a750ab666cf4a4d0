import { MONTHS_PER_YEAR } from '../units.ts'
import type { Meter, YearSteps } from './harvest/delivery.ts'
import type { PartialLoss } from './option-energy.ts'

/** Shares of the generation that may be down, at which the split is played. */
const SHARES = Float64Array.of(0, 0.02, 0.05, 0.1, 0.2, 0.35, 0.5, 0.75, 1)

/** Power of an option at its inverters, as the table of partial losses needs it. */
export interface LossyPower {
  /** After the limit of the inverters, kW, a value a step, when `dcFactor` of the DC power is there. */
  readonly limitedKw: (dcFactor: number) => Float64Array
  /** One inverter limits everything: a share is lost before it, and a clipped hour may lose nothing. */
  readonly oneLimit: boolean
}

/**
 * What losing a share of an option's generation costs, from the same hours as its energy (C5, O4): the split of every
 * hour is played again with what remains. Where one inverter limits everything, the share is lost before it; where
 * several do, each keeps its own limit.
 *
 * @param steps - months and hours
 * @param power - the option at its inverters
 * @param meter - household, network, wiring
 * @param loadKnown - whether the household's load is given; else the self-used part is left to the rule of C5
 * @returns the table; null where a lost share costs just that share and no load is known
 */
export function partialLossOf(
  steps: YearSteps,
  power: LossyPower,
  meter: Meter,
  loadKnown: boolean,
): PartialLoss | null {
  if (!loadKnown && meter.exportLimitKw === null && !power.oneLimit) return null
  const allThere = power.limitedKw(1)
  const whole = delivered(steps, allThere, meter, 1)
  const lostShare = new Float64Array(MONTHS_PER_YEAR * SHARES.length)
  const lostSelfUsedShare = new Float64Array(MONTHS_PER_YEAR * SHARES.length)
  SHARES.forEach((share, place) => {
    const left = power.oneLimit
      ? delivered(steps, power.limitedKw(1 - share), meter, 1)
      : delivered(steps, allThere, meter, 1 - share)
    for (let month = 0; month < MONTHS_PER_YEAR; month++) {
      const all = whole.kwh[month] ?? 0
      if (all <= 0) continue
      const at = month * SHARES.length + place
      lostShare[at] = Math.max(0, (all - (left.kwh[month] ?? 0)) / all)
      lostSelfUsedShare[at] = Math.max(0, ((whole.selfUsedKwh[month] ?? 0) - (left.selfUsedKwh[month] ?? 0)) / all)
    }
  })
  return { shares: SHARES.slice(), lostShare, lostSelfUsedShare: loadKnown ? lostSelfUsedShare : null }
}

function delivered(
  steps: YearSteps,
  limitedKw: Float64Array,
  meter: Meter,
  acFactor: number,
): { kwh: Float64Array; selfUsedKwh: Float64Array } {
  const kwh = new Float64Array(MONTHS_PER_YEAR)
  const selfUsedKwh = new Float64Array(MONTHS_PER_YEAR)
  const kept = (1 - meter.acWiringLoss) * acFactor
  const { nSteps, month, hours } = steps
  const { loadReach } = meter
  const loadKw = meter.loadKw ?? new Float64Array(nSteps)
  const exportKw = meter.exportLimitKw ?? Number.POSITIVE_INFINITY
  for (let step = 0; step < nSteps; step++) {
    const load = (loadKw[step] ?? 0) * loadReach
    const kw = Math.min(kept * (limitedKw[step] ?? 0), load + exportKw)
    const at = month[step] ?? 0
    const long = hours[step] ?? 0
    kwh[at] = (kwh[at] ?? 0) + kw * long
    selfUsedKwh[at] = (selfUsedKwh[at] ?? 0) + Math.min(kw, load) * long
  }
  return { kwh, selfUsedKwh }
}
