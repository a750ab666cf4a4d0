/**
 * All comparisons with the reference in one short program, which ends with 1 at the first difference: the first judge of
 * `npm run mutate`, which bundles it with a changed source file.
 */

import fc from 'fast-check'
import { columnsHold, failuresHold, playBoth, sweepHolds } from './compare.ts'
import { scenarios } from './scenarios.ts'

try {
  fc.assert(
    fc.property(scenarios, fc.integer({ min: 1, max: 1e6 }), (blocks, seed) => {
      const both = playBoth(blocks, seed)
      failuresHold(both)
      columnsHold(both)
      sweepHolds(both)
    }),
    { numRuns: 25, seed: 11, endOnFailure: true },
  )
} catch {
  process.exitCode = 1
}
