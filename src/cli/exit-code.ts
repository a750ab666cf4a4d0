import { LifetallyError } from '../errors.ts'
import { printError } from './terminal/output.ts'
import { readVersion } from './version.ts'

const EXIT_FAULT = 1
const EXIT_USAGE = 2

/**
 * Turns an error into words on the error channel; the only place that does.
 *
 * @param error - whatever was thrown
 * @returns the exit code of the command
 */
export function exitCodeOf(error: unknown): number {
  if (isOutOfFiles(error)) {
    printError('too few files may be open at once here; allow more (ulimit -n 1024) and run the command again\n')
    return EXIT_USAGE
  }
  if (error instanceof LifetallyError) {
    printError(`${error.message}\n`)
    return error.exitCode
  }
  const words = (error instanceof Error ? error.message : String(error)).split('\n', 1)[0]
  printError(
    `lifetally ${readVersion()} has a fault: ${words}\nPlease report this line with the command you typed and, if you can, the input file.\n`,
  )
  return EXIT_FAULT
}

/** Whether the system refused to open one more file, here or in what this error came from. */
function isOutOfFiles(error: unknown): boolean {
  for (let cause = error; cause instanceof Error; cause = cause.cause) {
    if ('code' in cause && (cause.code === 'EMFILE' || cause.code === 'ENFILE')) return true
  }
  return false
}
