import { type BrowserServer, chromium } from 'playwright-core'
import type { TestProject } from 'vitest/node'
import { tierOf } from '../.config/tiers.ts'
import { BROWSER_ARGUMENTS, BROWSER_PATH } from './report/browser-place.ts'

declare module 'vitest' {
  interface ProvidedContext {
    /** Address of the browser that all tests of pages share; '' where there is none. */
    browser: string
  }
}

let server: BrowserServer | null = null

/**
 * Starts one browser for all tests that look at pages, where the run has any.
 *
 * @param project - is given `browser`
 */
export async function setup(project: TestProject): Promise<void> {
  if (BROWSER_PATH === null || !project.vitest.state.getPaths().some(path => tierOf(path) === 'pages')) {
    project.provide('browser', '')
    return
  }
  server = await chromium.launchServer({ executablePath: BROWSER_PATH, args: BROWSER_ARGUMENTS })
  project.provide('browser', server.wsEndpoint())
}

/** Closes it. */
export async function teardown(): Promise<void> {
  await server?.close()
}
