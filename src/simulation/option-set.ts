import type { OptionParameters } from '../history/parameters.ts'
import type { OptionTerms } from '../ledger/terms.ts'
import type { ModelParameters } from './model-parameters.ts'

/** One option in one parameter set, as the history and the ledger read it. */
export interface OptionSet {
  readonly parameters: OptionParameters
  readonly terms: OptionTerms
  /** By model of the scenario. */
  readonly models: readonly ModelParameters[]
  readonly partsExitRate: number
  readonly labourExitRate: number
  /** Whether tables of the set are dense; worthwhile from thousands of draws. */
  readonly dense: boolean
}

/**
 * The same with its fields written out; why: `unitParameters` in `history/parameters.ts`.
 *
 * @param of - an option in one parameter set
 */
export function optionSet(of: OptionSet): OptionSet {
  return {
    parameters: of.parameters,
    terms: of.terms,
    models: of.models,
    partsExitRate: of.partsExitRate,
    labourExitRate: of.labourExitRate,
    dense: of.dense,
  }
}
