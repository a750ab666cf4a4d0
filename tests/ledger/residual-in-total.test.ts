import { expect, test } from 'vitest'
import { failsAt, first, play, single, world } from '../worlds.ts'

// The total of C7 once had three copies; with the residual left out of the second every test passed.
test('C6, C7: straight-line residual value is subtracted from every form of the total: mean, percentiles, swings, differences', async () => {
  const ageing = single({ failure: failsAt(12), replacement: { parts: { low: 900, high: 1100 } } }, {}, 'Ageing')
  const lasting = single({ failure: failsAt(30) }, { upfront_cost: 6000 }, 'Lasting')
  const [none, valued] = await Promise.all(
    ['none', 'straight-line'].map(residual_value =>
      play(world([ageing, lasting], { horizon_years: 20, residual_value }), { draws: 20 }),
    ),
  )
  if (none === undefined || valued === undefined) throw new Error('not played')
  const before = first(none.options)
  const after = first(valued.options)
  const worth = -after.costs.residual
  // 4 of 12 years of a unit of about 1,000 are left
  expect(worth).toBeGreaterThan(250)
  expect(before.costs.residual).toBe(0)
  expect(before.lifetimeCost.mean - after.lifetimeCost.mean).toBeCloseTo(worth, 6)
  expect(after.withStraightLine.mean).toBe(after.lifetimeCost.mean)
  expect(before.withStraightLine.mean).toBeCloseTo(after.lifetimeCost.mean, 6)
  expect(before.lifetimeCost.p5 - after.lifetimeCost.p5).toBeGreaterThan(250)
  expect(before.lifetimeCost.p95 - after.lifetimeCost.p95).toBeGreaterThan(250)
  const [swing, valuedSwing] = [first(none.swings), first(valued.swings)]
  expect(swing.costAtLow - valuedSwing.costAtLow).toBeGreaterThan(250)
  expect(swing.costAtHigh - valuedSwing.costAtHigh).toBeGreaterThan(250)
  const other = -(valued.options[1]?.costs.residual ?? 0)
  const [pair, valuedPair] = [first(none.comparisons), first(valued.comparisons)]
  // Lasting is the dearer to buy: its own worth less that of the other
  expect(pair.meanDifference - valuedPair.meanDifference).toBeCloseTo(other - worth, 6)
})
