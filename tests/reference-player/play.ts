/** Plays and prices the draws of an option by the reference, given the option as the program has made it ready. */
import { batchStruck, drawExits, endOfProduction } from '../../src/history/chance.ts'
import { ProviderExits } from '../../src/history/provider-exits.ts'
import type { OptionTerms } from '../../src/ledger/terms.ts'
import type { OptionPlan } from '../../src/simulation/option-plan.ts'
import type { OptionSet } from '../../src/simulation/option-set.ts'
import { exitsIn } from '../worlds.ts'
import { type Failure, playReference } from './history.ts'
import { type Account, priceReference, residualValue, type Surroundings } from './ledger.ts'

/** One draw as the reference has it. */
export interface ReferenceDraw {
  readonly failures: readonly Failure[]
  readonly around: Surroundings
  readonly account: Account & { readonly residual: number }
}

/**
 * Plays one draw and prices it.
 *
 * @param plan - the option
 * @param set - the option in the draw's parameter set
 * @param draw - number of the draw
 */
export function referenceDraw(plan: OptionPlan, set: OptionSet, draw: number): ReferenceDraw {
  const { models, options } = plan.scenario
  const struck = models.map((_, model) => {
    const key = plan.batchKeys[model]
    return (
      key !== undefined &&
      plan.modelsHere.includes(model) &&
      batchStruck(key, draw, set.models[model]?.batchChance ?? 0)
    )
  })
  const failures = playReference(set.parameters, draw, struck)
  const exits = (key: typeof plan.partsProviderKey, rate: number): number[] => {
    const out = new ProviderExits()
    out.begin(1)
    drawExits(key, draw, rate, set.parameters.horizonYears, out, 0)
    return exitsIn(out, 0)
  }
  const around: Surroundings = {
    partsExits: exits(plan.partsProviderKey, set.partsExitRate),
    labourExits: exits(plan.labourProviderKey, set.labourExitRate),
    endOfProduction: models.map((model, i) => {
      const key = plan.productionKeys[i]
      const chance = options
        .flatMap(({ populations }) => populations)
        .find(population => population.model === i && population.successor !== null)?.successor?.chance
      return key === undefined || chance === undefined
        ? Infinity
        : endOfProduction(key, draw, chance, model.oldestAgeYears)
    }),
  }
  const account = priceReference(failures, set.terms, plan.supply, around)
  return { failures, around, account: { ...account, residual: residualValue(failures, set.terms) } }
}

/**
 * The same draw under other cover of one component, or with providers that stay.
 *
 * @param plan - the option
 * @param played - from `referenceDraw`
 * @param terms - of the option, changed
 * @param stays - providers never leave (V3)
 */
export function repriced(plan: OptionPlan, played: ReferenceDraw, terms: OptionTerms, stays = false): Account {
  const around = stays ? { ...played.around, partsExits: [], labourExits: [] } : played.around
  return priceReference(played.failures, terms, plan.supply, around)
}
