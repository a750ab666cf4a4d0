import { resolve } from 'node:path'
import open from 'open'
import { printError } from './output.ts'

/**
 * Shows a page in the program that the system uses for pages; where there is none, says how to look at it.
 *
 * @param path - an HTML file
 */
export async function showPage(path: string): Promise<void> {
  const sorry = (): void => {
    printError(`No program was found here that shows pages. Open ${resolve(path)} in a browser.\n`)
  }
  try {
    const shown = await open(resolve(path))
    // a program that is not there says so by an event, after it was started
    shown.once('error', sorry)
  } catch {
    sorry()
  }
}
