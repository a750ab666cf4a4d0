import { visible } from '../plain-text.ts'

/** Signs that make a spreadsheet run a cell as a formula, also after spaces and in full-width form. */
const RUNS = /^\s*[=+\-@\uff1d\uff0b\uff0d\uff20]|^[\t\r\n]/u

/**
 * A text as it is safe in a CSV cell: one that a spreadsheet would run as a formula gets an apostrophe before it.
 *
 * @param text - words, such as a name that a user typed; numbers need no change
 * @example cellText('=1+1') // "'=1+1"
 */
export function cellText(text: string): string {
  const shown = visible(text)
  return RUNS.test(text) ? `'${shown}` : shown
}
