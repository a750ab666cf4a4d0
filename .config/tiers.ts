import { matchesGlob, relative } from 'node:path'
import { fileURLToPath } from 'node:url'

/**
 * The tiers of the tests. `rules` is every test file that is not listed here: no process, no browser, nothing long. A test
 * that starts processes or a browser must be listed; tests/tiers.test.ts looks.
 */
export const TIERS = {
  /** Start the built program, or other programs. */
  programs: [
    'tests/cli/**/*.test.ts',
    'tests/fleet/{array-job,first-sites,owners-table}.test.ts',
    'tests/hard/{faults,hostile,random-stops}.test.ts',
    'tests/input/{folder-lock,place}.test.ts',
    'tests/simulation/threads.test.ts',
  ],
  /** Look at pages in a browser. */
  pages: [
    'tests/report/{access,browser,fleet-browser,fleet-sheet,print,roof-browser,sheet}.test.ts',
    'tests/fitting/fit-report.test.ts',
  ],
  /** Play so many draws, rows or cases that they take seconds each. */
  long: [
    'tests/analysis/{mean-controls,mean-scatter,properties,sums,unknowns,what-ifs}.test.ts',
    'tests/evidence/used-figures.test.ts',
    'tests/fitting/{cannot-carry,hard-records,joint-draws,million-rows,open-records,simulated}.test.ts',
    'tests/fleet/{common-cause,figures,play-part,sites-by-reference}.test.ts',
    'tests/hard/{fuzz-*,one-fault,owner-coverage}.test.ts',
    'tests/reference-player/kernel.test.ts',
    'tests/report/render.test.ts',
    'tests/simulation/{even-points,reference,ten-million}.test.ts',
  ],
} as const

/** A tier that is a list. */
export type Listed = keyof typeof TIERS

export const isListed = (word: string): word is Listed => word in TIERS

const ROOT = fileURLToPath(new URL('..', import.meta.url))

/**
 * The tier of a test file.
 *
 * @param path - absolute
 */
export function tierOf(path: string): Listed | 'rules' {
  const file = relative(ROOT, path)
  return (
    Object.keys(TIERS)
      .filter(isListed)
      .find(tier => TIERS[tier].some(glob => matchesGlob(file, glob))) ?? 'rules'
  )
}
