import type { Problems } from '../../input/problems.ts'
import type { Rule, ScenarioDraft } from './draft.ts'
import { checkKinds } from './kinds.ts'
import { checkModels } from './models.ts'
import { checkNames } from './names.ts'
import { checkOffers } from './offers.ts'
import { checkPrices } from './prices.ts'
import { checkProviders } from './providers.ts'
import { checkRoof } from './roof.ts'
import { checkShares } from './shares.ts'

const RULES: readonly Rule[] = [
  checkNames,
  checkKinds,
  checkShares,
  checkPrices,
  checkOffers,
  checkModels,
  checkProviders,
  checkRoof,
]

/**
 * Every rule that holds between the blocks of a scenario.
 *
 * @param draft - the scenario as far as it could be read
 * @param problems - takes what breaks a rule
 */
export function checkRules(draft: ScenarioDraft, problems: Problems): void {
  for (const rule of RULES) rule(draft, problems)
}
