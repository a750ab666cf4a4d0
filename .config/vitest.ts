import { readdirSync } from 'node:fs'
import { availableParallelism } from 'node:os'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { defineConfig } from 'vitest/config'
import { BaseSequencer, type TestSpecification } from 'vitest/node'
import { LATER_COMPILATION } from '../src/cli/compile-later.ts'
import { tierOf } from './tiers.ts'

/** Where `.ci/run` wants the counts of the run, as JSON. */
const countsFile = process.env.LIFETALLY_TEST_COUNTS

const ROOT = fileURLToPath(new URL('..', import.meta.url))
const FILES = readdirSync(join(ROOT, 'tests'), { recursive: true, encoding: 'utf8' })
  .map(file => join('tests', file))
  .filter(file => file.endsWith('.test.ts'))

/** The tiers that `.config/test.mjs` was asked for; none: all. */
const asked = (process.env.LIFETALLY_TIERS ?? '').split(' ').filter(word => word !== '')

/** Whether tests run that wait for a program or a page. */
const waits = asked.length === 0 || asked.includes('programs') || asked.includes('pages')

/** The tiers with long files first, the many short files of `rules` last: all workers end together. */
class LongTiersFirst extends BaseSequencer {
  override async sort(files: TestSpecification[]): Promise<TestSpecification[]> {
    const place = ({ moduleId }: TestSpecification) => ['long', 'programs', 'pages', 'rules'].indexOf(tierOf(moduleId))
    return (await super.sort(files)).sort((a, b) => place(a) - place(b))
  }
}

export default defineConfig({
  test: {
    root: ROOT,
    // one project for all tiers: each further project has a server and workers of its own, which load the source again
    include: FILES.filter(file => asked.length === 0 || asked.includes(tierOf(join(ROOT, file)))),
    globalSetup: ['tests/build-program.ts', 'tests/share-browser.ts'],
    // two more than there are processors where a test that waits leaves its processor to another
    maxWorkers: availableParallelism() + (waits ? 2 : 0),
    // a fifteenth of the processor time of tests that play
    execArgv: [...LATER_COMPILATION],
    // no test leaves anything behind in a module: files of one process share what they import, a quarter of the time
    isolate: false,
    sequence: { sequencer: LongTiersFirst },
    // room for a loaded machine: no test measures time
    testTimeout: 240_000,
    hookTimeout: 120_000,
    reporters: countsFile === undefined ? ['default'] : ['default', ['json', { outputFile: countsFile }]],
    coverage: { include: ['src/**/*.ts'], exclude: ['**/*.d.ts'] },
  },
})
