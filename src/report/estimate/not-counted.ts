import type { OptionResult } from '../../analysis/results/option.ts'
import { kindOf } from '../../topologies/kinds.ts'
import { joinList, joinWords } from '../names.ts'
import type { View } from './view.ts'

/**
 * What no figure counts, and what is counted for some options only; a seller of either could omit it (O2, O7).
 *
 * @param view - prepared results
 * @returns sentences
 */
export function notCounted(view: View): string[] {
  const { options, notes } = view.results
  const backed = options.filter(({ daysWithoutBackup }) => daysWithoutBackup !== null)
  const missing = [
    ...(backed.length > 0 ? [`the worth of backup power, which ${ids(backed)} can have`] : []),
    ...(notes.some(({ code }) => code === 'no-dc-isolator')
      ? ['a DC isolator on the roof, which only strings need and which can fail']
      : []),
    ...(builtIn(view).length > 0 ? [`failures of the monitoring built into ${ids(builtIn(view))}`] : []),
    ...(options.every(({ energy }) => energy.designLossKwh.shadeAndMismatch === 0)
      ? ['any gain from tracking each panel']
      : []),
  ]
  return [...(missing.length === 0 ? [] : [`Not counted: ${joinList(missing)}.`]), ...forSome(view)]
}

/** What only some options are charged or credited with. */
function forSome(view: View): string[] {
  const { options } = view.results
  const some = (has: (option: OptionResult) => boolean, words: string): string[] => {
    const those = options.filter(has)
    return those.length === 0 || those.length === options.length ? [] : [`${words} (${ids(those)})`]
  }
  const said = [
    ...some(({ costs }) => costs.yearly > 0, 'a yearly cost'),
    ...some(hasGateway, 'a gateway, which can fail'),
    ...some(({ batteryWorth }) => batteryWorth !== 'none', 'a battery in the price'),
  ]
  return said.length === 0
    ? []
    : [`Counted for some only: ${joinList(said)}. Ask whether the other quotes really have none.`]
}

function hasGateway({ populations }: OptionResult): boolean {
  return populations.some(({ kind }) => kindOf(kind).monitors)
}

function builtIn(view: View): OptionResult[] {
  return view.results.options.filter(
    option =>
      !hasGateway(option) &&
      view.results.inputs.some(({ key, value }) => key.startsWith(`${option.name} / `) && value === 'built-in'),
  )
}

function ids(options: readonly OptionResult[]): string {
  return joinWords(options.map(({ id }) => id))
}
