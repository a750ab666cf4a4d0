import { relative } from 'node:path'
import { fileURLToPath } from 'node:url'

const files = (folder: string, names: string): string[] =>
  names.split(' ').map(name => `tests/${folder}/${name}.test.ts`)

/**
 * The tiers of the tests, each a list of how paths begin. `rules` is every test file that is not listed here: no process, no
 * browser, nothing long. A test that starts processes or a browser must be listed; tests/tiers.test.ts looks.
 */
export const TIERS = {
  /** Start the built program, or other programs. */
  programs: [
    'tests/cli/',
    ...files('fleet', 'array-job first-sites owners-table'),
    ...files('hard', 'faults hostile random-stops'),
    ...files('input', 'folder-lock place'),
    ...files('simulation', 'threads'),
  ],
  /** Look at pages in a browser. */
  pages: [
    ...files('report', 'access browser fleet-browser fleet-sheet print roof-browser sheet'),
    ...files('fitting', 'fit-report'),
  ],
  /** Play so many draws, rows or cases that they take seconds each. */
  long: [
    ...files('analysis', 'mean-controls mean-scatter properties sums unknowns what-ifs'),
    ...files('evidence', 'used-figures'),
    ...files('fitting', 'cannot-carry hard-records joint-draws million-rows open-records simulated'),
    ...files('fleet', 'common-cause figures play-part sites-by-reference'),
    'tests/hard/fuzz-',
    ...files('hard', 'one-fault owner-coverage'),
    ...files('reference-player', 'kernel'),
    ...files('report', 'render'),
    ...files('simulation', 'even-points reference ten-million'),
  ],
} as const satisfies Record<string, readonly string[]>

const ROOT = fileURLToPath(new URL('..', import.meta.url))

/** The tiers whose lists name a test file. */
export function tiersOf(path: string): string[] {
  const file = relative(ROOT, path)
  return Object.entries(TIERS).flatMap(([tier, list]) => (list.some(start => file.startsWith(start)) ? [tier] : []))
}

/** The tier of a test file. */
export function tierOf(path: string): string {
  return tiersOf(path)[0] ?? 'rules'
}
