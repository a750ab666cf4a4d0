import fc from 'fast-check'
import { expect, test } from 'vitest'
import { type Block, option, unit, weibull, world } from '../worlds.ts'
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

/** Two units that fail often and share visits, with covers that depend on each other's providers. */
function sharedVisits(second: Block, over: Block): Block {
  const often = { ...weibull(1, 2), bad_batch: { chance: 0 } }
  const downtime = { detect_days: 60, respond_days: 60, repair_days: 3, claim_days: 30 }
  const replacement = { parts: 1000, labour: 210, labour_each_further: 40, parts_growth: 0 }
  const covered = { claim_success: 1, visits_covered: true, labour_years: 3, years: 3, replacement_cover: 'renewed' }
  const both = { downtime, replacement, failure: often, count: 1 }
  const components = [
    unit('hybrid-inverter', { ...both, warranty: covered }),
    unit('battery', { ...both, warranty: { ...covered, years: 20, ...second } }),
  ]
  const visits = { visit_policy: { wait_for_units: 1, wait_at_most_days: 300 } }
  return world([option('One', 'hybrid', components, { ...visits, labour_provider: { exit_rate_per_year: 0.3 } })], over)
}

test.each([
  // the unit that the owner had to buy brought a new term: its visit, then free, counted as saved once more
  [
    'a visit is no longer free once providers stay',
    { replacement_cover: 'new-if-bought' },
    {},
    { warranty_provider: { exit_rate_per_year: 0.3 } },
  ],
  // only the second unit of a visit missed its provider: terms were as if the first let every visit be free
  ['a visit hangs on the provider of another component', { labour_years: 20 }, { horizon_years: 4 }, {}],
])('V3: %s', (_, second, over, providers) => {
  const blocks = sharedVisits(second, over)
  const options = (blocks.options as Block[]).map(one => ({ ...one, ...providers }))
  for (let seed = 1; seed <= 12; seed++) sweepHolds(playBoth({ ...blocks, options }, seed))
})
