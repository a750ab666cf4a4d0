import { fileURLToPath } from 'node:url'
import { Eta } from 'eta'
import { visible } from '../plain-text.ts'

const templates = new Eta({
  // the same place from src/, from dist/ and from an installed package
  views: fileURLToPath(new URL('../../report-templates/', import.meta.url)),
  cache: true,
  autoEscape: true,
  autoFilter: true,
  filterFunction: (value: unknown): string => {
    if (typeof value === 'string') return visible(value)
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
