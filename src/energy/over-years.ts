import { power } from '../numerics/power.ts'
import { MONTHS_PER_YEAR } from '../units.ts'
import type { Calendar } from './calendar.ts'
import type { MonthStages } from './harvest/delivery.ts'
import { DESIGN_LOSSES, type DesignLoss, type OptionEnergy } from './option-energy.ts'

/** Share of a month's ideal energy below which the remainder after losses is rounding. */
const ROUNDING = 1e-12

/** A year's energy at an age of the panels. */
export interface StagesAtAge {
  readonly ageYears: number
  readonly stages: MonthStages
}

/** Years between the ages that are played; ours: straight lines between them add under 0.02 points of clipping. */
const YEARS_BETWEEN = 5

/**
 * Ages at which a year is played in full: every fifth year, and the last one.
 *
 * @param horizonYears - whole years, >= 1
 * @returns ages, ascending, first 0
 */
export function playedAges(horizonYears: number): number[] {
  const ages: number[] = []
  for (let age = 0; age < horizonYears - 1; age += YEARS_BETWEEN) ages.push(age)
  return [...ages, horizonYears - 1]
}

/** Energies of the horizon, without those that come from the roof or from outages. */
export type HorizonEnergy = Pick<
  OptionEnergy,
  'idealKwh' | 'designLossKwh' | 'deliverableKwh' | 'designLossSelfUsedKwh' | 'designLossUnpaidKwh'
>

/**
 * Energy month by month over the horizon (T3, C7): ideal falls with age; each loss is taken as a share of ideal, in
 * straight lines between the played ages, so that clipping falls faster than the rest. Delivered is ideal less every
 * loss, exactly.
 *
 * @param played - a year at each of `playedAges`
 * @param degradation - share a year
 * @param calendar - months of the horizon
 * @param loadKnown - whether the self-used parts are meaningful
 * @returns energies, horizonYears × 12
 */
export function overYears(
  played: readonly StagesAtAge[],
  degradation: number,
  calendar: Calendar,
  loadKnown: boolean,
): HorizonEnergy {
  const months = calendar.horizonYears * MONTHS_PER_YEAR
  const idealKwh = new Float64Array(months)
  const columns = (): Record<DesignLoss, Float64Array> => ({
    clipping: new Float64Array(months),
    shadeAndMismatch: new Float64Array(months),
    conversion: new Float64Array(months),
    exportLimit: new Float64Array(months),
  })
  const lost = columns()
  const selfUsed = columns()
  const unpaid = columns()
  const deliverableKwh = new Float64Array(months)
  for (let i = 0; i < months; i++) {
    const month = calendar.calendarMonth[i % MONTHS_PER_YEAR] ?? 0
    const year = Math.floor(i / MONTHS_PER_YEAR)
    const first = played[0]?.stages.idealKwh[month] ?? 0
    const ideal = first * power(1 - degradation, year)
    idealKwh[i] = ideal
    let left = ideal
    for (const loss of DESIGN_LOSSES) {
      const share = (of: (stages: MonthStages) => Float64Array): number => shareAt(played, year, month, of)
      const kwh = ideal * share(stages => stages.lossKwh[loss])
      lost[loss][i] = kwh
      selfUsed[loss][i] = ideal * share(stages => stages.lossSelfUsedKwh[loss])
      unpaid[loss][i] = ideal * share(stages => stages.lossUnpaidKwh[loss])
      left -= kwh
    }
    // the remainder after a loss of everything is rounding, and may be below 0 (N4)
    deliverableKwh[i] = left > ROUNDING * ideal ? left : 0
  }
  return {
    idealKwh,
    designLossKwh: lost,
    deliverableKwh,
    designLossSelfUsedKwh: loadKnown ? selfUsed : null,
    designLossUnpaidKwh: unpaid,
  }
}

function shareAt(
  played: readonly StagesAtAge[],
  year: number,
  month: number,
  of: (stages: MonthStages) => Float64Array,
): number {
  const after = played.findIndex(({ ageYears }) => ageYears >= year)
  const right = played[after === -1 ? played.length - 1 : after]
  const left = played[Math.max(0, after - 1)]
  if (left === undefined || right === undefined) return 0
  const shareOf = ({ stages }: StagesAtAge): number => {
    const ideal = stages.idealKwh[month] ?? 0
    return ideal > 0 ? (of(stages)[month] ?? 0) / ideal : 0
  }
  const width = right.ageYears - left.ageYears
  const along = width === 0 ? 1 : (year - left.ageYears) / width
  return shareOf(left) * (1 - along) + shareOf(right) * along
}
