import { plainName } from '../names.ts'
import type { View } from '../view.ts'

/** A note of the run in a sentence or two. */
export interface NoteLine {
  readonly text: string
  /** It says only what was taken where nothing was told. */
  readonly filled: boolean
}

// Codes of notes that say what stands in for something left out.
const FILLED = /^(no-successor|labour-each-further|prices-from-evidence|no-tier-gap|.*-not-told|.*-default)/

/**
 * Everything the run has to tell beside its figures, each once, with the option it belongs to.
 *
 * @param view - prepared results
 * @returns lines in the order in which they came up
 */
export function notes(view: View): NoteLine[] {
  const lines = view.results.notes.map(note => {
    const filled = FILLED.test(note.code)
    if (note.option === null) return { text: note.text, filled }
    const option = view.option(note.option)
    const bare = note.text.startsWith(`${option.name}: `) ? note.text.slice(option.name.length + 2) : note.text
    return { text: `${view.name(option)}: ${bare}`, filled }
  })
  return lines.filter((line, index) => lines.findIndex(other => other.text === line.text) === index)
}

/**
 * What is to be set against a difference between options with and without a battery (O7): it stands beside every verdict
 * that such a difference goes into.
 *
 * @param view - prepared results
 * @param id - of one option; null: of all
 * @returns sentences; none where all options have a battery or none has
 */
export function batteryNotes(view: View, id: string | null = null): string[] {
  return view.results.notes
    .filter(note => note.code === 'battery-value' && (id === null || note.option === id))
    .map(note => plainName(note.text))
}

/**
 * The notes with names made safe, for the last pages.
 *
 * @param view - prepared results
 * @returns sentences
 */
export function noteTexts(view: View): string[] {
  return notes(view).map(line => plainName(line.text))
}
