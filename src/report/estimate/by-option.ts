import type { OptionResult } from '../../analysis/results/option.ts'
import type { Assumption } from '../../scenario/model/assumption.ts'
import { REPLACEMENT_COVERS } from '../../scenario/model/replacement-cover.ts'
import { tail } from '../../scenario/schema/key-words.ts'
import { formatAssumption } from '../format/input.ts'
import { componentWords } from '../names.ts'
import type { View } from './view.ts'

/**
 * Options in groups that fit next to one another in a table, so that no table is cut on paper.
 *
 * @param options - in the order in which they are shown
 * @param most - options in one table, >= 1
 * @returns groups, none of them empty
 */
export function inGroups(options: readonly OptionResult[], most: number): OptionResult[][] {
  const groups: OptionResult[][] = []
  for (let start = 0; start < options.length; start += most) groups.push(options.slice(start, start + most))
  return groups
}

/**
 * The option an assumption belongs to, by the first part of its key.
 *
 * @param view - prepared results
 * @param input - the assumption
 * @returns the option, or null for one of the site or of all
 */
export function ownerOf(view: View, input: Assumption): OptionResult | null {
  return view.results.options.find(option => input.key.startsWith(`${option.name} / `)) ?? null
}

/**
 * The component an assumption belongs to.
 *
 * @param view - prepared results
 * @param input - the assumption
 * @returns its label in a key, e.g. `string-inverter`; null for one of the site or of a whole option
 */
export function componentOfAssumption(view: View, input: Assumption): string | null {
  const owner = ownerOf(view, input)
  if (owner === null) return null
  const parts = input.key.slice(owner.name.length + 3).split(' / ')
  return parts.length > 1 ? (parts[0] ?? null) : null
}

/** Plain words for words of the scenario file that a reader of the report has not seen (W3). */
const PLAIN_WORDS: Readonly<Record<string, string>> = {
  ...REPLACEMENT_COVERS,
  'built-in': 'monitoring is built in',
}
// a Map: a value in a file may be the word `constructor`
const plainWords = new Map(Object.entries(PLAIN_WORDS))

/**
 * What a word of the scenario file means.
 *
 * @param input - an assumption
 * @returns plain words; null where the value needs none
 */
export function plainWord(input: Assumption): string | null {
  return plainWords.get(String(input.value)) ?? null
}

/**
 * Values of the same assumption, joined where they agree: by component where components differ, else by option.
 *
 * @param view - prepared results
 * @param inputs - assumptions of one meaning
 * @returns e.g. `10 years`, `A: 5 years; B: 12 years`, `string inverter: 3 days; optimiser: 7 days`
 */
export function valuesByOption(view: View, inputs: readonly Assumption[]): string {
  const said = (input: Assumption): string => plainWord(input) ?? formatAssumption(input, view.locale)
  const values = new Set(inputs.map(said))
  if (values.size === 1) return [...values][0] ?? ''
  const components = new Map<string, Assumption[]>()
  for (const input of inputs) {
    const component = componentOfAssumption(view, input) ?? ''
    components.set(component, [...(components.get(component) ?? []), input])
  }
  return [...components]
    .map(([component, those]) => {
      const words = components.size === 1 || component === '' ? '' : componentWords(component)
      return valuesOfOptions(view, those, said, words)
    })
    .join('; ')
}

function valuesOfOptions(
  view: View,
  inputs: readonly Assumption[],
  said: (input: Assumption) => string,
  words: string,
): string {
  const owners = new Map<string, Set<string>>()
  for (const input of inputs) {
    const letters = owners.get(said(input)) ?? new Set()
    owners.set(said(input), letters.add(ownerOf(view, input)?.id ?? ''))
  }
  return [...owners]
    .map(([value, letters]) => {
      const named = owners.size === 1 && words !== '' ? '' : [...letters].filter(letter => letter !== '').join(', ')
      const head = [words, words !== '' && named !== '' ? `(${named})` : named].filter(part => part !== '').join(' ')
      return head === '' ? value : `${head}: ${value}`
    })
    .join('; ')
}

/**
 * Where a value holds. Components and options are listed one by one only where they differ.
 *
 * @param view - prepared results
 * @param inputs - assumptions of one key that share a value, at least one
 * @returns e.g. `all options`, `A, B`, `string inverter (A, B); gateway`, `every component`
 */
export function placesOf(view: View, inputs: readonly Assumption[]): string {
  const key = tail(inputs[0]?.key ?? '')
  const mine = optionsByComponent(view, inputs)
  const all = optionsByComponent(
    view,
    view.results.inputs.filter(input => tail(input.key) === key),
  )
  const whole = (component: string): boolean => mine.get(component)?.size === all.get(component)?.size
  const everywhere = mine.size > 1 && mine.size === componentsOf(view).size
  if (everywhere && [...mine.keys()].every(whole)) return 'every component'
  return [...mine]
    .map(([component, letters]) => {
      const listed = [...letters].join(',\u00a0')
      if (component === '')
        return listed === '' || letters.size === view.results.options.length ? 'all options' : listed
      return whole(component) ? componentWords(component) : `${componentWords(component)} (${listed})`
    })
    .join('; ')
}

/** Components of all options, found once for a report. */
function componentsOf(view: View): ReadonlySet<string> {
  const known = components.get(view)
  if (known !== undefined) return known
  const found = new Set(view.results.inputs.flatMap(input => componentOfAssumption(view, input) ?? []))
  components.set(view, found)
  return found
}

const components = new WeakMap<View, ReadonlySet<string>>()

/** Letters of the options by component; '' holds those of a whole option, and none for what belongs to the site. */
function optionsByComponent(view: View, inputs: readonly Assumption[]): Map<string, Set<string>> {
  const found = new Map<string, Set<string>>()
  for (const input of inputs) {
    const component = componentOfAssumption(view, input) ?? ''
    const owner = ownerOf(view, input)
    const letters = found.get(component) ?? new Set()
    found.set(component, owner === null ? letters : letters.add(owner.id))
  }
  return found
}
