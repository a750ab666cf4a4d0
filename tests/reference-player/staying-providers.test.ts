import { test } from 'vitest'
import { type Block, option, unit, weibull, world } from '../worlds.ts'
import { playBoth, sweepHolds } from './compare.ts'

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
  const growing = { discount_rate: 0.04, visit: { labour_growth: 0.03 }, ...over }
  return world(
    [option('One', 'hybrid', components, { ...visits, labour_provider: { exit_rate_per_year: 0.3 } })],
    growing,
  )
}

test.each([
  // the unit that the owner had to buy brought a new term: its visit, then free, counted as saved once more
  [
    'a visit is no longer free once providers stay',
    { replacement_cover: 'new-if-bought' },
    { horizon_years: 10 },
    { warranty_provider: { exit_rate_per_year: 0.3 } },
  ],
  // only the second unit of a visit missed its provider: terms were as if the first let every visit be free
  ['a visit depends on the provider of another component', { labour_years: 20 }, { horizon_years: 4 }, {}],
])('V3: %s', (_, second, over, providers) => {
  const blocks = sharedVisits(second, over)
  const options = (blocks.options as Block[]).map(one => ({ ...one, ...providers }))
  for (let seed = 1; seed <= 12; seed++) sweepHolds(playBoth({ ...blocks, options }, seed))
})
