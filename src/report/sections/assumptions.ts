import type { Assumption } from '../../scenario/model.ts'
import { type Table, table } from '../content.ts'
import { formatInput, formatInputRange } from '../format.ts'
import { KNOWN_WORDS, keyWords, tail } from '../margin.ts'
import { plainName } from '../names.ts'
import type { View } from '../view.ts'

/**
 * Every assumption with value, range, unit, source and how well it is known: one table for the site, one an option.
 *
 * @param view - prepared results
 * @returns tables in the order in which the options are listed
 */
export function assumptions(view: View): Table[] {
  const groups = new Map<string, Assumption[]>()
  for (const input of view.results.inputs) {
    const owner = view.results.options.find(option => input.key.startsWith(`${option.name} / `))
    const group = owner === undefined ? 'Site, prices and money' : view.name(owner)
    groups.set(group, [...(groups.get(group) ?? []), input])
  }
  return [...groups].map(([group, inputs]) =>
    table(
      group,
      ['Assumption', '#Value', '#Range (1 of 10 below, 1 of 10 above)', 'Source', 'How known'],
      inputs.map(input => [
        named(input),
        formatInput(input.value, input.unit, view.locale),
        formatInputRange(input.low, input.high, input.unit, view.locale),
        plainName(input.source),
        KNOWN_WORDS[input.known].toLowerCase(),
      ]),
    ),
  )
}

/** The words, the component where there is one, and the key as it stands in a scenario file. */
function named(input: Assumption): string {
  const component = input.key.split(' / ').slice(1, -1).join(', ')
  const words = keyWords(input.key)
  return `${component === '' ? '' : `${component.replace(/-/g, ' ')}: `}${words} [${tail(input.key)}]`
}
