import { nearest } from '../../input/problems.ts'
import { topologyMeant } from '../../scenario/short-form/trade-words.ts'
import { COMPONENT_KINDS, KINDS } from '../../topologies/kinds.ts'
import { withOneOption } from './fleet-file.ts'
import { isBlock, optionBlocks, type PlainSource } from './parsed.ts'

/** Which option is on a roof, or why that is not known. */
export type ChosenOption = { readonly name: string } | { readonly message: string }

/** The options of a template, any of which may be on a roof (F7a). */
export class RoofOptions {
  /** Names of the options, in order. */
  readonly names: readonly string[]
  readonly #source: PlainSource
  readonly #usual: string | null
  readonly #templates = new Map<string, unknown>()

  /**
   * @param source - the template as parsed
   * @param usual - the option of sites that name none; null: none
   */
  constructor(source: PlainSource, usual: string | null) {
    this.#source = source
    this.#usual = usual
    this.names = optionBlocks(source.value).flatMap(({ name }) => (typeof name === 'string' ? [name] : []))
  }

  /**
   * The template with an option first.
   *
   * @param name - of the option
   */
  templateOf(name: string): unknown {
    const known = this.#templates.get(name)
    if (known !== undefined) return known
    const made = withOneOption(this.#source.value, name)
    this.#templates.set(name, made)
    return made
  }

  /**
   * The option that is on a roof.
   *
   * @param says - what the cell holds: the name of the option, or its topology
   * @param cell - trimmed; '' where the table does not say
   */
  choose(says: 'option' | 'topology', cell: string): ChosenOption {
    if (cell === '') return this.#usual === null ? { message: this.#optionMissing() } : { name: this.#usual }
    return says === 'option' ? this.#byName(cell) : this.#byTopology(cell)
  }

  #byName(cell: string): ChosenOption {
    const found = this.names.find(name => name === cell) ?? this.names.find(name => same(name) === same(cell))
    if (found !== undefined) return { name: found }
    const meant = nearest(cell, this.names)
    const hint = meant === null ? `${this.#source.file} has ${quoted(this.names)}` : `did you mean "${meant}"?`
    return { message: `found "${cell}"; ${hint}` }
  }

  #byTopology(cell: string): ChosenOption {
    const word = topologyMeant(cell)
    const options = optionBlocks(this.#source.value)
    const found = options.filter(({ topology }) => topology === word)
    const [only, second] = found.map(({ name }) => String(name))
    if (only !== undefined && second === undefined) return { name: only }
    if (only !== undefined)
      return {
        message: `${this.#source.file} has several options with topology ${word}; name one in a column "option"`,
      }
    const known = options.map(({ topology }) => String(topology))
    return { message: `found "${cell}"; the options of ${this.#source.file} have ${quoted([...new Set(known)])}` }
  }

  #optionMissing(): string {
    return `no option is named; ${this.#source.file} has ${quoted(this.names)}`
  }
}

function same(word: string): string {
  return word.trim().toLowerCase()
}

function quoted(words: readonly string[]): string {
  return words.map(word => `"${word}"`).join(', ')
}

/**
 * A scenario whose first option has a name in words for each model, maker and installer that has none. They are shared
 * by all roofs of the same option and tier, and reports list them.
 *
 * @param value - with the option on the roof first, cells of the site filled in
 * @param option - its name where a fleet has several options; null: it has one
 */
export function withWords(value: unknown, option: string | null): unknown {
  if (!isBlock(value) || !Array.isArray(value.options)) return value
  const [first, ...others]: readonly unknown[] = value.options
  if (!isBlock(first)) return value
  const components: readonly unknown[] = Array.isArray(first.components) ? first.components : []
  const tier = tierWords(components[0])
  const provider = (given: unknown, role: string): unknown => {
    const block = isBlock(given) ? given : {}
    const ofOption = option === null ? '' : ` (${option})`
    return block.name === undefined ? { ...block, name: `${role}${tier}${ofOption}` } : block
  }
  const times = new Map<string, number>()
  const named = {
    ...first,
    warranty_provider: provider(first.warranty_provider, 'maker without a name'),
    labour_provider: provider(first.labour_provider, 'installer without a name'),
    components: components.map(component => {
      if (!isBlock(component) || component.model !== undefined) return component
      const words = `${option === null ? '' : `${option}: `}${kindWords(component.kind)}${tierWords(component)}`
      const time = (times.get(words) ?? 0) + 1
      times.set(words, time)
      return { ...component, model: time === 1 ? words : `${words} ${time}` }
    }),
  }
  return { ...value, options: [named, ...others] }
}

/** A tier other than the usual one. */
function tierWords(component: unknown): string {
  const tier = isBlock(component) ? component.tier : undefined
  return typeof tier === 'string' && tier !== 'plain' ? `, ${tier}` : ''
}

function kindWords(value: unknown): string {
  const kind = COMPONENT_KINDS.find(known => known === value)
  return kind === undefined ? 'unit' : KINDS[kind].one
}
