import { availableParallelism } from 'node:os'
import { fileURLToPath } from 'node:url'
import { defineConfig } from 'vitest/config'

/** Where `.ci/run` wants the counts of the run, as JSON. */
const countsFile = process.env.LIFETALLY_TEST_COUNTS

export default defineConfig({
  test: {
    root: fileURLToPath(new URL('..', import.meta.url)),
    include: ['tests/**/*.test.ts'],
    // all processors: the default leaves one idle, half of a machine with two
    maxWorkers: availableParallelism(),
    // no test leaves anything behind in a module: files of one process share what they import, a quarter of the time
    isolate: false,
    // what was compiled for one run is used by the next: a third of the time of a small run
    experimental: { fsModuleCache: true },
    testTimeout: 60_000,
    hookTimeout: 120_000,
    reporters: countsFile === undefined ? ['default'] : ['default', ['json', { outputFile: countsFile }]],
    coverage: { include: ['src/**/*.ts'], exclude: ['**/*.d.ts'] },
  },
})
