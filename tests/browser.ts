import { execFileSync } from 'node:child_process'

/** Names under which systems install Chromium. */
const NAMES = ['chromium', 'chromium-browser']

/**
 * The browser in which reports are opened: the variable CHROMIUM, or Chromium on the path.
 * Use as `describe.skipIf(browserPath() === null)`.
 *
 * @returns path of the program; null, with a loud line, where there is none
 * @throws Error in CI, where a missing browser must not pass unseen
 */
export function browserPath(): string | null {
  const told = process.env.CHROMIUM
  for (const name of told === undefined ? NAMES : [told]) {
    try {
      return execFileSync('sh', ['-c', 'command -v "$0"', name], { encoding: 'utf8' }).trim()
    } catch {
      // not under this name
    }
  }
  const message = 'NO BROWSER: install Chromium or set CHROMIUM to its path (npm run test:all tries to)'
  if (process.env.CI) throw new Error(message)
  console.warn(`\n*** ${message}. The tests that open the report are SKIPPED. ***\n`)
  return null
}
