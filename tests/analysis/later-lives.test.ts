import { expect, test } from 'vitest'
import { renderReport } from '../../src/report/estimate/render-estimate.ts'
import { type Block, first, option, play, unit, weibull, world } from '../worlds.ts'

const life = { failure: weibull(2, 6), downtime: { respond_days: 60 } }
const six = (over: Block, optionOver: Block = {}, more: readonly Block[] = []): Block =>
  option('Six', 'panel-level', [unit('panel-level-unit', { count: 6, ...life, ...over }), ...more], optionOver)

// A fault in the lives after the first used to go unnoticed wherever one of these rules was on.
test.each<[string, Block]>([
  ['a visit policy', six({}, { visit_policy: { wait_for_units: 3, wait_at_most_days: 300 } })],
  ['repairs', six({ restore: { repair: { renews: 0.4, parts: 10, labour: 10 } } })],
  ['a gateway', six({}, {}, [unit('gateway', { failure: weibull(1, 4) })])],
  [
    'planned replacement under a visit policy',
    six({ replace_at_age_years: 8 }, { visit_policy: { wait_for_units: 3, wait_at_most_days: 300 } }),
  ],
])('X1: with %s, later lives are checked with the same units found and visited one by one', async (_, one) => {
  const results = await play(world([one], { horizon_years: 20 }), { draws: 400 })
  const [plain] = first(
    (await play(world([six({ ...replaceAt(one) })], { horizon_years: 20 }), { draws: 400 })).options,
  ).populations
  const { checked, laterLives } = first(first(results.options).populations)
  expect(checked).not.toBe('failures')
  // the same streams: to the last bit the failures of a scenario without the rule
  expect(laterLives?.mean).toBe(plain?.failures.mean)
  expect(laterLives?.exactMean).toBe(plain?.failures.exactMean)
  expect(Math.abs(laterLives?.zScore ?? 9)).toBeLessThan(4.5)
  expect(laterLives?.draws).toBe(400)
  const page = renderReport(results, { audience: 'buyer', command: 'lifetally' })
  expect(page).toContain('all failures, each by itself')
  expect(page).toContain('only the first failure of each unit has an exact number')
})

function replaceAt(one: Block): Block {
  const { replace_at_age_years } = (one.components as readonly Block[])[0] ?? {}
  return replace_at_age_years === undefined ? {} : { replace_at_age_years }
}

test('X1: where all failures are checked as played, nothing more is played or said', async () => {
  const results = await play(world([six({})]), { draws: 100 })
  expect(first(first(results.options).populations).laterLives).toBeNull()
  expect(renderReport(results, { audience: 'buyer', command: 'lifetally' })).not.toContain('each by itself')
})
