/**
 * One population of a scenario in one parameter set, as the history and the ledger read it.
 */
import type { DelayParameters } from '../history/parameters.ts'
import { type CoverTerms, coverTerms, type UnitTerms } from '../ledger/terms.ts'
import type { CompoundFactor } from '../numerics/compound-factor.ts'
import { lognormalFactors } from '../numerics/distributions/lognormal-factors.ts'
import { SCORE_90 } from '../numerics/distributions/two-piece.ts'
import type { Mode } from '../numerics/lives/competing-risks.ts'
import type { Delay, Population, Warranty } from '../scenario/model/population.ts'
import { type Scores, valueAt } from '../scenario/quantity.ts'
import { kindOf } from '../topologies/kinds.ts'
import { DAYS_PER_YEAR } from '../units.ts'

/**
 * Terms of a warranty as the ledger reads them.
 *
 * @param warranty - as resolved
 * @param offer - years and labour years of an offer that is taken (W6); undefined: those of the warranty
 * @param scores - scores of the unknowns
 */
export function coverAt(
  warranty: Warranty,
  offer: { readonly years: number; readonly labourYears: number } | undefined,
  scores: Scores,
): CoverTerms {
  const claimSuccess = valueAt(warranty.claimSuccess, scores)
  if (offer === undefined) return coverTerms({ ...warranty, claimSuccess })
  return coverTerms({ ...warranty, years: offer.years, labourYears: offer.labourYears, claimSuccess })
}

/**
 * Prices and terms of one population as the ledger reads them.
 *
 * @param population - as resolved
 * @param cover - its terms, offers taken included
 * @param partsGrowth - of its parts
 * @param modes - of its units
 * @param unitShare - share of the option's generation behind one unit
 * @param scores - scores of the unknowns
 */
export function unitTerms(
  population: Population,
  cover: CoverTerms,
  partsGrowth: CompoundFactor,
  modes: readonly Mode[],
  unitShare: number,
  scores: Scores,
): UnitTerms {
  const { prices, repairRule } = population
  const labour = valueAt(prices.labour, scores)
  return {
    ageYears: population.ageYears,
    count: population.count,
    role: kindOf(population.kind).role,
    unitShare,
    parts: valueAt(prices.parts, scores),
    labour,
    labourEachFurther: prices.labourEachFurther === null ? labour : valueAt(prices.labourEachFurther, scores),
    partsGrowth,
    repair: repairRule && { parts: repairRule.parts, labour: repairRule.labour },
    surcharge: population.successor?.surcharge ?? 0,
    model: population.model,
    onRoof: population.onRoof,
    needsVisit: population.needsVisit,
    claimYears: population.claimDays / DAYS_PER_YEAR,
    cover,
    modes,
  }
}

/**
 * A delay as it is drawn.
 *
 * @param delay - as resolved
 * @param scores - scores of the unknowns
 */
export function delayParameters(delay: Delay, scores: Scores): DelayParameters {
  return {
    medianYears: valueAt(delay.medianDays, scores) / DAYS_PER_YEAR,
    factors: delay.p90OverMedian === 1 ? null : lognormalFactors(Math.log(delay.p90OverMedian) / SCORE_90),
  }
}
