import { accessSync, constants } from 'node:fs'

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

/** What the browser is started with: nothing that uses the network by itself. */
export const BROWSER_ARGUMENTS = [
  '--headless',
  '--no-sandbox',
  '--disable-gpu',
  '--disable-background-networking',
  '--disable-component-update',
  '--no-first-run',
]
