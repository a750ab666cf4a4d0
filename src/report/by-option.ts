import type { OptionResult } from '../analysis/results.ts'
import type { Assumption } from '../scenario/model.ts'
import { formatInput } from './format.ts'
import type { View } from './view.ts'

/**
 * Options in groups that fit beside one another in a table, so that no table is cut on paper.
 *
 * @param options - in the order in which they stand
 * @param most - options in one table, >= 1
 * @returns groups, none of them empty
 */
export function inGroups(options: readonly OptionResult[], most: number): OptionResult[][] {
  const groups: OptionResult[][] = []
  for (let start = 0; start < options.length; start += most) groups.push(options.slice(start, start + most))
  return groups
}

/**
 * The option an assumption belongs to, told by the first part of its key.
 *
 * @param view - prepared results
 * @param input - the assumption
 * @returns the option, or null for one of the site or of all
 */
export function ownerOf(view: View, input: Assumption): OptionResult | null {
  return view.results.options.find(option => input.key.startsWith(`${option.name} / `)) ?? null
}

/**
 * Values of the same assumption in several options, joined where they agree.
 *
 * @param view - prepared results
 * @param inputs - assumptions of one meaning
 * @returns e.g. `A, C: 5 years; B: 12 years`
 */
export function valuesByOption(view: View, inputs: readonly Assumption[]): string {
  const owners = new Map<string, string[]>()
  for (const input of inputs) {
    const value = formatInput(input.value, input.unit, view.locale)
    const owner = ownerOf(view, input)?.id ?? ''
    const present = owners.get(value) ?? []
    if (!present.includes(owner)) owners.set(value, [...present, owner])
  }
  return [...owners]
    .map(([value, letters]) => {
      const named = letters.filter(letter => letter !== '')
      return named.length === 0 ? value : `${named.join(', ')}: ${value}`
    })
    .join('; ')
}
