import { asUsageError } from '../../input/place.ts'
import { removeUnfinished } from '../../input/write-whole.ts'
import { escapedJson, visible } from '../../plain-text.ts'

/**
 * Writes to standard output. Control characters in the text are made visible.
 *
 * @param text - whole lines
 */
export function print(text: string): void {
  process.stdout.write(visible(text))
}

/**
 * Writes a value to standard output as JSON.
 *
 * @param value - plain data
 */
export function printJson(value: unknown): void {
  print(`${escapedJson(JSON.stringify(value, null, 2))}\n`)
}

/**
 * Writes to standard error. Control characters in the text are made visible.
 *
 * @param text - whole lines
 */
export function printError(text: string): void {
  process.stderr.write(visible(text))
}

/**
 * Ends the program with a message when standard output fails. A reader that closes early (a pager, `head`) is no fault;
 * where standard error fails too, only the exit code reports it.
 */
export function watchOutput(): void {
  process.stderr.on('error', () => {})
  process.stdout.on('error', cause => {
    removeUnfinished()
    if ('code' in cause && cause.code === 'EPIPE') process.exit(0)
    const error = asUsageError('standard output', cause)
    printError(`${error instanceof Error ? error.message : String(error)}\n`)
    process.exit(2)
  })
}
