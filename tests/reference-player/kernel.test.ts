import fc from 'fast-check'
import { expect, test } from 'vitest'
import { type Both, columnsHold, failuresHold, playBoth, sweepHolds } from './compare.ts'
import { scenarios } from './scenarios.ts'

/** `REFERENCE_RUNS=2000 REFERENCE_SEED=7 npm test -- tests/reference-player` tries more. */
const RUNS = Number(process.env.REFERENCE_RUNS ?? 25)
const SEED = Number(process.env.REFERENCE_SEED ?? 11)

function holds(check: (both: Both) => void): void {
  fc.assert(
    fc.property(scenarios, fc.integer({ min: 1, max: 1e6 }), (blocks, seed) => {
      check(playBoth(blocks, seed))
    }),
    { numRuns: RUNS, seed: SEED, endOnFailure: true },
  )
}

test('every failure of every draw is that of the reference', () => {
  let failures = 0
  holds(both => {
    failures += failuresHold(both)
  })
  expect(failures).toBeGreaterThan(20 * RUNS)
}, 600_000)

test('every column of every draw is that of the reference', () => {
  holds(columnsHold)
}, 600_000)

test('V1–V3: every term of the sweep is what the reference pays under it', () => {
  holds(sweepHolds)
}, 600_000)
