import { resolve } from 'node:path'
import open from 'open'
import { printError } from './output.ts'

/**
 * Opens a page in the system's browser; where there is none, says how to open it.
 *
 * @param path - an HTML file
 */
export async function showPage(path: string): Promise<void> {
  const sorry = (): void => {
    printError(`No browser was found. Open ${resolve(path)} in a browser.\n`)
  }
  try {
    const shown = await open(resolve(path))
    // a missing program is reported by an event after the start
    shown.once('error', sorry)
  } catch {
    sorry()
  }
}
