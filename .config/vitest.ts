import { availableParallelism } from 'node:os'
import { fileURLToPath } from 'node:url'
import { defineConfig, type TestProjectInlineConfiguration } from 'vitest/config'
import { TIERS } from './tiers.ts'

/** Where `.ci/run` wants the counts of the run, as JSON. */
const countsFile = process.env.LIFETALLY_TEST_COUNTS

const ROOT = fileURLToPath(new URL('..', import.meta.url))

const tier = (name: string, include: readonly string[], more: object = {}): TestProjectInlineConfiguration => ({
  extends: true,

  test: { name, root: ROOT, include: [...include], ...more },
})

export default defineConfig({
  test: {
    root: ROOT,
    // all processors: the default leaves one idle, half of a machine with two
    maxWorkers: availableParallelism(),
    // no test leaves anything behind in a module: files of one process share what they import, a quarter of the time
    isolate: false,
    // room for a loaded machine: no test measures time
    testTimeout: 240_000,
    hookTimeout: 120_000,
    reporters: countsFile === undefined ? ['default'] : ['default', ['json', { outputFile: countsFile }]],
    coverage: { include: ['src/**/*.ts'], exclude: ['**/*.d.ts'] },
    projects: [
      tier('rules', ['tests/**/*.test.ts'], { exclude: Object.values(TIERS).flat() }),
      tier('programs', TIERS.programs, { globalSetup: 'tests/build-program.ts' }),
      tier('pages', TIERS.pages, { globalSetup: ['tests/build-program.ts', 'tests/share-browser.ts'] }),
      tier('long', TIERS.long),
    ],
  },
})
