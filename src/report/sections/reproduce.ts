import { formatNumber } from '../format/number.ts'
import type { View } from '../view.ts'

/**
 * The lines from which the same file can be made again.
 *
 * @param view - prepared results
 * @param command - the command line as it was given
 * @returns sentence and command
 */
export function reproduce(view: View, command: string): { readonly sentence: string; readonly command: string } {
  const { tool, seed, draws, blocks, parameterSets } = view.results
  const n = (value: number): string => formatNumber(value, 1, view.locale)
  return {
    sentence: `${tool.name} ${tool.version}, seed ${seed}, ${n(draws)} lifetimes an option in ${n(blocks)} ${blocks === 1 ? 'block' : 'blocks'}, ${n(parameterSets)} ${parameterSets === 1 ? 'set' : 'sets'} of assumptions. The same scenario, seed and number of lifetimes give the same figures.`,
    command,
  }
}
