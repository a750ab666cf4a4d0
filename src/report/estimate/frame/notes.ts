import type { Note } from '../../../scenario/model/assumption.ts'
import { joinWords, plainName } from '../../names.ts'
import type { View } from '../view.ts'

// Codes of notes that say what replaces something left out.
const FILLED = /^(no-successor|labour-each-further|prices-from-evidence|no-tier-gap)/

/**
 * Notes on the roof and the quotes, each once.
 *
 * @param view - prepared results
 * @returns sentences in the order in which they came up
 */
export function quoteNotes(view: View): string[] {
  return asSentences(
    view,
    view.results.notes.filter(note => !FILLED.test(note.code)),
  )
}

/**
 * What was taken where nothing was given, each once: together with `quoteNotes`, every note.
 *
 * @param view - prepared results
 * @returns sentences in the order in which they came up
 */
export function filledNotes(view: View): string[] {
  return asSentences(
    view,
    view.results.notes.filter(note => FILLED.test(note.code)),
  )
}

/** Each text once, after the options it belongs to. */
function asSentences(view: View, notes: readonly Note[]): string[] {
  const options = new Map<string, string[]>()
  for (const { text, option } of notes) {
    const start = option === null ? '' : `${view.option(option).name}: `
    const bare = text.startsWith(start) ? text.slice(start.length) : text
    const those = options.get(bare) ?? []
    options.set(bare, option === null || those.includes(option) ? those : [...those, option])
  }
  return [...options].map(([text, ids]) => {
    const [only] = ids
    if (only === undefined) return plainName(text)
    return plainName(`${ids.length === 1 ? view.name(only) : `Options ${joinWords(ids)}`}: ${text}`)
  })
}
