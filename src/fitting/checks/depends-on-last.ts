import { type AgeUnit, unitsPerYear } from '../age-unit.ts'
import { riskTable } from '../curves/kaplan-meier.ts'
import type { DependsOnLast } from '../fit-result.ts'
import { type Addition, type Fit, type FitData, fitDataOf, fitModel } from '../likelihood/fit-model.ts'
import { type ProfileInterval, profiledEstimate } from '../likelihood/profile.ts'
import { shareFailedBy } from '../likelihood/quantity.ts'
import { type Life, type LifeRows, lifeAt, rowsOf } from '../rows.ts'

/** An age at which fewer units are watched counts as one of the last (ours, as for the mean cumulative function). */
const FEW_WATCHED = 10

/** Fewest failures of the other records for a curve of their own (ours). */
const FEWEST_FAILURES = 3

/** The age for which the answer gives the share failed, years. */
const TEN_YEARS = 10

/**
 * Whether a curve depends on the last few units: whether the share failed by ten years leaves its own 90 % range once
 * the records are cut at the age beyond which fewer than ten units were watched at any failure.
 *
 * @param fit - the model in use
 * @param data - the records
 * @param tenYears90 - 90 % range of the share failed by ten years
 * @param settings - age unit and prior of the fit
 * @returns null where it does not, or where failures lie between two ages
 */
export function dependsOnLast(
  fit: Fit,
  data: FitData,
  tenYears90: ProfileInterval,
  settings: { readonly ageUnit: AgeUnit; readonly prior: Addition | undefined },
): DependsOnLast | null {
  if (data.exact.intervals.counts.length > 0) return null
  const risk = riskTable(data.coarse)
  const lastCrowded = risk.findLastIndex(({ atRisk }) => atRisk >= FEW_WATCHED)
  const thin = risk.slice(lastCrowded + 1)
  const age = risk[lastCrowded]?.age
  const seenBefore = risk.slice(0, lastCrowded + 1).reduce((sum, { failures }) => sum + failures, 0)
  if (thin.length === 0 || age === undefined || seenBefore < FEWEST_FAILURES) return null
  const cut = fitModel(fitDataOf(cutAt(data.coarse, age)), fit.model, settings.ageUnit, settings.prior)
  if (cut === null) return null
  const tenYears = TEN_YEARS * unitsPerYear(settings.ageUnit)
  const [low, high] = tenYears90
  const failedByTenYears = profiledEstimate(cut, shareFailedBy(cut.form, tenYears)).estimate
  if ((low ?? 0) <= failedByTenYears && failedByTenYears <= (high ?? 1)) return null
  return { age, atMost: Math.max(...thin.map(({ atRisk }) => atRisk)), failedByTenYears }
}

/** The records as they would be if the watch of every unit had ended at an age. */
function cutAt(rows: LifeRows, age: number): LifeRows {
  const lives: Life[] = []
  for (let r = 0; r < rows.counts.length; r++) {
    const life = lifeAt(rows, r)
    if (life.startAge >= age) continue
    lives.push(life.afterAge > age ? { ...life, afterAge: age, beforeAge: Infinity } : life)
  }
  return rowsOf(lives)
}
