import type { OptionPlan } from '../../simulation/option-plan.ts'
import type { OptionRun } from '../option/option-run.ts'
import type { WarrantySweep } from '../results/what-if.ts'

/** A sweep without the other components. */
export type PlainSweep = Omit<WarrantySweep, 'otherComponents'>

/**
 * Out-of-pocket cost and worth by warranty term, and the verdict on each offer (V1–V3, W6).
 *
 * @param plan - the option
 * @param run - its draws, with the sweep
 */
export function warrantyResults(plan: OptionPlan, run: OptionRun): PlainSweep {
  const { option, scenario } = plan
  const { layout } = run
  const years = Array.from({ length: scenario.horizonYears + 1 }, (_, year) => year)
  const paid = years.map(term => run.mean(layout.ofSweep(term, 'paid')))
  const lost = years.map(term => run.mean(layout.ofSweep(term, 'energy')))
  const fall = (values: readonly number[], term: number): number => (values[0] ?? 0) - (values[term] ?? 0)
  return {
    option: option.id,
    component: option.populations[0]?.kind ?? '',
    years,
    outOfPocketMean: paid,
    outOfPocketIfProviderStays: years.map(term => run.mean(layout.ofSweep(term, 'paidIfStays'))),
    worth: years.map(term => run.mean(layout.ofSweep(term, 'worth'))),
    worthStandardErrors: years.map(term => run.standardError(layout.ofSweep(term, 'worth'))),
    energyLostToClaims: years.map(term => 0 - fall(lost, term)),
    offers: option.offers.map((offer, i) => {
      const { mean: worth, standardError } = run.estimate(layout.ofOffer(i, false))
      return {
        component: option.populations[offer.place]?.kind ?? '',
        years: offer.years,
        labourYears: offer.labourYears,
        price: offer.price,
        worth,
        worthIfProviderStays: run.mean(layout.ofOffer(i, true)),
        standardError,
        taken: offer.taken,
        verdict: verdictOf(worth - offer.price, standardError),
      }
    }),
  }
}

/** W6: too close to call under two standard errors. */
function verdictOf(gain: number, standardError: number): WarrantySweep['offers'][number]['verdict'] {
  if (Math.abs(gain) < 2 * standardError) return 'too close to call'
  return gain > 0 ? 'worth its price' : 'not worth its price'
}
