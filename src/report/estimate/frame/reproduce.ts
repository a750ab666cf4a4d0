import { power } from '../../../numerics/power.ts'
import { formatNumber } from '../../format/number.ts'
import type { View } from '../view.ts'

/**
 * The lines from which the same file can be made again.
 *
 * @param view - prepared results
 * @param command - the command line as it was given
 * @returns sentence and command
 */
export function reproduce(view: View, command: string): { readonly sentence: string; readonly command: string } {
  const { tool, seed, draws, errorShare, blocks, parameterSets } = view.results
  const n = (value: number): string => formatNumber(value, 1, view.locale)
  // to two digits
  const percent = 100 * (errorShare ?? 0)
  const step = percent > 0 ? power(10, Math.floor(Math.log10(percent)) - 1) : 1
  const error =
    errorShare === null
      ? ''
      : ` The largest standard error of a mean lifetime cost, or of a difference of two, is ${formatNumber(percent, step, view.locale)} % of the lowest lifetime cost.`
  return {
    sentence: `${tool.name} ${tool.version}, seed ${seed}, ${n(draws)} lifetimes an option in ${n(blocks)} ${blocks === 1 ? 'block' : 'blocks'}, ${n(parameterSets)} ${parameterSets === 1 ? 'set' : 'sets'} of assumptions.${error} The same scenario, seed and number of lifetimes give the same figures.`,
    command,
  }
}
