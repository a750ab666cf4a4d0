/**
 * Where the browser tests find their browser, and what they do without one: they print a warning and are skipped, but fail
 * where CI is set.
 */
import { readFileSync } from 'node:fs'
import { createRequire } from 'node:module'
import { pathToFileURL } from 'node:url'
import { type Browser, type BrowserContextOptions, chromium, type Page } from 'playwright-core'
import { inject } from 'vitest'
import { BROWSER_PATH } from './browser-place.ts'

export { BROWSER_PATH }

/** The accessibility checker: one script that a test puts into a page; the reports themselves have none. */
export const AXE = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8')

if (BROWSER_PATH === null) {
  const said = 'NO CHROMIUM FOUND: the browser tests of the report did not run. Install the package "chromium".'
  if (process.env.CI) throw new Error(said)
  console.error(`\n${'!'.repeat(said.length)}\n${said}\n${'!'.repeat(said.length)}\n`)
}

/**
 * Connects to the one browser of the run, which tests/share-browser.ts has started.
 *
 * @returns a browser of one's own as far as pages go; closed by the caller, which leaves the other pages open
 */
export async function openBrowser(): Promise<Browser> {
  return chromium.connect(inject('browser'))
}

/** Opens a report from disk in a context of its own, to be closed by the caller. */
export async function openFile(browser: Browser, file: string, options: BrowserContextOptions): Promise<Page> {
  const page = await (await browser.newContext(options)).newPage()
  await page.goto(pathToFileURL(file).href)
  return page
}
