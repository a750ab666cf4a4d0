import { availableParallelism } from 'node:os'
import { fileURLToPath } from 'node:url'
import { defineConfig } from 'vitest/config'
import { BaseSequencer, type TestSpecification } from 'vitest/node'
import { isListed, TIERS, tierOf } from './tiers.ts'

/** Where `.ci/run` wants the counts of the run, as JSON. */
const countsFile = process.env.LIFETALLY_TEST_COUNTS

const EVERY = Object.keys(TIERS).filter(isListed)
/** The tiers that `.config/test.mjs` was asked for; none: all. */
const asked = (process.env.LIFETALLY_TIERS ?? '').split(' ').filter(word => word !== '')
const all = asked.length === 0
const lists = EVERY.filter(tier => all || asked.includes(tier))

/** The tiers with long files first, the many short files of `rules` last: all workers end together. */
class LongTiersFirst extends BaseSequencer {
  override async sort(files: TestSpecification[]): Promise<TestSpecification[]> {
    const place = ({ moduleId }: TestSpecification) => ['long', 'programs', 'pages', 'rules'].indexOf(tierOf(moduleId))
    return (await super.sort(files)).sort((a, b) => place(a) - place(b))
  }
}

export default defineConfig({
  test: {
    root: fileURLToPath(new URL('..', import.meta.url)),
    // one project for all tiers: a project more has workers and a server of its own, which load the source anew
    include: all || asked.includes('rules') ? ['tests/**/*.test.ts'] : lists.flatMap(tier => TIERS[tier]),
    exclude: EVERY.filter(tier => !lists.includes(tier)).flatMap(tier => TIERS[tier]),
    globalSetup: ['tests/build-program.ts', 'tests/share-browser.ts'],
    // one more than there are processors: a test that waits for a program or a page leaves its processor to another
    maxWorkers: availableParallelism() + 1,
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
