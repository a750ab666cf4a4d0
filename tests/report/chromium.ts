/**
 * Where the browser tests find their browser, and what they do without one: they say so loudly and are skipped, but fail
 * where CI is set.
 */
import { accessSync, constants, readFileSync } from 'node:fs'
import { createRequire } from 'node:module'
import { pathToFileURL } from 'node:url'
import { type Browser, type BrowserContextOptions, chromium, type Page } from 'playwright-core'

/** The accessibility checker: one script that a test puts into a page; the reports themselves have none. */
export const AXE = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8')

const PLACES = [process.env.CHROMIUM_PATH, '/usr/bin/chromium', '/usr/bin/chromium-browser', '/usr/bin/google-chrome']

function runnable(path: string): boolean {
  try {
    accessSync(path, constants.X_OK)
    return true
  } catch {
    return false
  }
}

/** Path of a browser, or null. */
export const BROWSER_PATH: string | null =
  PLACES.filter(path => path !== undefined).find(path => runnable(path)) ?? null

if (BROWSER_PATH === null) {
  const said = 'NO CHROMIUM FOUND: the browser tests of the report did not run. Install the package "chromium".'
  if (process.env.CI) throw new Error(said)
  console.error(`\n${'!'.repeat(said.length)}\n${said}\n${'!'.repeat(said.length)}\n`)
}

/**
 * Starts the browser without anything that reaches for the network by itself.
 *
 * @returns a browser to be closed by the caller
 */
export async function openBrowser(): Promise<Browser> {
  if (BROWSER_PATH === null) throw new Error('no browser')
  return chromium.launch({
    executablePath: BROWSER_PATH,
    args: [
      '--headless',
      '--no-sandbox',
      '--disable-gpu',
      '--disable-background-networking',
      '--disable-component-update',
      '--no-first-run',
    ],
  })
}

/** Opens a report from disk in a context of its own, to be closed by the caller. */
export async function openFile(browser: Browser, file: string, options: BrowserContextOptions): Promise<Page> {
  const page = await (await browser.newContext(options)).newPage()
  await page.goto(pathToFileURL(file).href)
  return page
}
