/**
 * Where the browser tests find their browser, and what they do without one: they print a warning and are skipped, but fail
 * where CI is set.
 */
import { readFileSync } from 'node:fs'
import { createRequire } from 'node:module'
import { pathToFileURL } from 'node:url'
import { type Browser, chromium, type Page } from 'playwright-core'
import { inject } from 'vitest'
import { BROWSER_PATH } from './browser-place.ts'

export { BROWSER_PATH }

/** The accessibility checker: one script that a test puts into a page; the reports themselves have none. */
const AXE = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8')

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

/** How a report is looked at. */
export interface Look {
  readonly viewport?: { readonly width: number; readonly height: number }
  readonly media?: 'print'
  readonly colorScheme?: 'light' | 'dark'
  readonly forcedColors?: 'active'
  readonly reducedMotion?: 'reduce'
  /** Whether a test may put scripts and styles into the page, which reports forbid. */
  readonly bypassCSP?: boolean
}

const DESK = { width: 1280, height: 720 }

/** The page of a browser that only looks, and the one that takes scripts. */
const pages = new WeakMap<Browser, Map<boolean, Promise<Page>>>()

/**
 * Opens a report from disk. The page is that of the test before, which is closed with the browser: a page of one's own
 * costs the browser a process, more than most tests of it.
 */
export async function openFile(browser: Browser, file: string, look: Look = {}): Promise<Page> {
  const own = pages.get(browser) ?? new Map<boolean, Promise<Page>>()
  pages.set(browser, own)
  const { bypassCSP = false } = look
  const opened = own.get(bypassCSP) ?? browser.newPage({ bypassCSP })
  own.set(bypassCSP, opened)
  const page = await opened
  await page.setViewportSize(look.viewport ?? DESK)
  await page.emulateMedia({
    media: look.media ?? null,
    colorScheme: look.colorScheme ?? 'light',
    forcedColors: look.forcedColors ?? 'none',
    reducedMotion: look.reducedMotion ?? 'no-preference',
  })
  await page.goto(pathToFileURL(file).href)
  return page
}

/**
 * What the accessibility checker finds on a page that was opened with `bypassCSP`.
 *
 * @param within - selectors of the parts to look at; left out: all
 * @returns weight, rule and first element of each finding
 */
export async function findingsOf(page: Page, within?: string): Promise<string[]> {
  await page.evaluate(AXE)
  return page.evaluate<
    string[]
  >(`axe.run(${within === undefined ? 'document' : JSON.stringify(within)}, { resultTypes: ['violations'] }).then(({ violations }) =>
    violations.map(({ id, impact, nodes }) => impact + ' ' + id + ': ' + nodes[0].html.slice(0, 160)))`)
}
