/**
 * Names that a user typed, made safe for use in a sentence.
 */
import { COMPONENT_KINDS, type ComponentKind, kindWords } from '../topologies/kinds.ts'

// Strong right-to-left letters: Hebrew, Arabic, Syriac, Thaana, N'Ko, their presentation forms and the scripts beyond the BMP.
const RIGHT_TO_LEFT = /[\u0590-\u08ff\ufb1d-\ufdff\ufe70-\ufefc\u{10800}-\u{10fff}\u{1e800}-\u{1efff}]/u
// Characters that reverse the direction of what follows, or cannot be shown.
const DIRECTION_MARKS = /[\u200e\u200f\u061c\u202a-\u202e\u2066-\u2069]/gu
const CONTROLS = /\p{Cc}+/gu

/**
 * A name that cannot change how the text around it reads: control and direction marks are taken out, and a name with
 * right-to-left letters is isolated (U+2068 … U+2069).
 *
 * @param text - any text
 * @returns the text on one line; 'unnamed' if nothing is left
 */
export function plainName(text: string): string {
  const clean = text.replace(DIRECTION_MARKS, '').replace(CONTROLS, ' ').trim()
  if (clean === '') return 'unnamed'
  return RIGHT_TO_LEFT.test(clean) ? `\u2068${clean}\u2069` : clean
}

const KIND = new RegExp(`\\b(?:${[...COMPONENT_KINDS].sort((a, b) => b.length - a.length).join('|')})\\b`, 'g')

/**
 * The label of a component with its kind as a sentence says it.
 *
 * @param label - e.g. `panel-level-unit`, `string-inverter 2`
 * @returns e.g. `panel-level unit`, `string inverter 2`
 */
export function componentWords(label: string): string {
  return label.replace(KIND, kind => kindWords(kind as ComponentKind, 1)) // the pattern matches nothing but kinds
}

/**
 * The label of an input with kinds of component as a sentence says them.
 *
 * @param label - e.g. `growth of parts prices (Plain inverter, string-inverter)`
 * @returns e.g. `growth of parts prices (Plain inverter, string inverter)`
 */
export function plainInput(label: string): string {
  return plainName(componentWords(label))
}

/**
 * Joins texts that contain commas.
 *
 * @param parts - any number of texts
 * @returns e.g. `a, 3; b, 4; and c, 5`
 */
export function joinList(parts: readonly string[]): string {
  if (parts.length <= 1) return parts[0] ?? ''
  return `${parts.slice(0, -1).join('; ')}; and ${parts.at(-1)}`
}

/**
 * Joins texts as a person would say them.
 *
 * @param parts - any number of texts
 * @returns e.g. `a, b and c`
 */
export function joinWords(parts: readonly string[]): string {
  if (parts.length <= 1) return parts[0] ?? ''
  return `${parts.slice(0, -1).join(', ')} and ${parts.at(-1)}`
}
