import fc from 'fast-check'
import { expect, test } from 'vitest'
import { columnsHold, failuresHold, playBoth, sweepHolds } from './compare.ts'
import { scenarios } from './scenarios.ts'

/** `REFERENCE_RUNS=2000 REFERENCE_SEED=7 npm test -- tests/reference-player` tries more. */
const RUNS = Number(process.env.REFERENCE_RUNS ?? 25)
const SEED = Number(process.env.REFERENCE_SEED ?? 11)

test('every failure and every column of every draw, and every term of the sweep (V1–V3), are those of the reference', () => {
  let failures = 0
  fc.assert(
    fc.property(scenarios, fc.integer({ min: 1, max: 1e6 }), (blocks, seed) => {
      const both = playBoth(blocks, seed)
      failures += failuresHold(both)
      columnsHold(both)
      sweepHolds(both)
    }),
    { numRuns: RUNS, seed: SEED, endOnFailure: true },
  )
  expect(failures).toBeGreaterThan(20 * RUNS)
}, 600_000)
