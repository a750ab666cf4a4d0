import { TOPOLOGIES, type TopologyKey } from '../../topologies/index.ts'
import { COMPONENT_KINDS, type ComponentKind, KINDS } from '../../topologies/kinds.ts'

/** Words for the solar inverter of a design, whichever kind it is. */
const SUN_INVERTER_NAMES: readonly string[] = ['inverter', 'solar inverter', 'PV inverter']

/**
 * The topology that a word of the trade means.
 *
 * @param word - as written
 * @returns its key; null where no topology is called so
 * @example topologyMeant('Micro-inverters') // 'panel-level'
 */
export function topologyMeant(word: string): TopologyKey | null {
  const meant = Object.values(TOPOLOGIES).find(({ key, alsoCalled }) => called(word, [key, ...alsoCalled]))
  // The table is keyed by the word that each topology gives as its own.
  return (meant?.key ?? null) as TopologyKey | null
}

/**
 * The kind of component that a word of the trade means.
 *
 * @param word - as written
 * @param inverter - kind of the sun's inverter in the design; null where it has none
 * @returns its key; null where no kind is called so
 * @example kindMeant('power optimizers', 'string-inverter') // 'optimiser'
 */
export function kindMeant(word: string, inverter: ComponentKind | null): ComponentKind | null {
  if (inverter !== null && called(word, SUN_INVERTER_NAMES)) return inverter
  return COMPONENT_KINDS.find(kind => called(word, [kind, ...KINDS[kind].alsoCalled])) ?? null
}

function called(word: string, names: readonly string[]): boolean {
  const plain = plainWord(word)
  return names.some(name => plainWord(name) === plain)
}

/** A word without what spelling, plural and hyphens change. */
function plainWord(word: string): string {
  return word
    .trim()
    .toLowerCase()
    .replace(/[\s_-]+/g, ' ')
    .replace('optimiz', 'optimis')
    .replace(/(?<=[^s])s$/, '')
    .replace(/batterie$/, 'battery')
}
