import { fileURLToPath } from 'node:url'
import { Eta } from 'eta'

/** Marks that turn the direction of all that follows: a name typed by somebody may hold one, a report never needs one. */
const TURNS = /[\u202a-\u202e]/g

const templates = new Eta({
  // the same place from src/, from dist/ and from an installed package
  views: fileURLToPath(new URL('../../report-templates/', import.meta.url)),
  cache: true,
  autoEscape: true,
  autoFilter: true,
  filterFunction: (value: unknown): string => {
    if (typeof value === 'string') return value.replace(TURNS, '')
    throw new TypeError(`a report template was given ${value === null ? 'null' : typeof value} where it places text`)
  },
})

/**
 * A template of report-templates/ filled in.
 *
 * @param name - file without `.eta`
 * @param content - strings, and lists of strings; anything else is an error
 * @returns HTML
 * @throws TypeError where a text is missing
 */
export function renderTemplate(name: string, content: object): string {
  return templates.render(`./${name}`, content)
}
