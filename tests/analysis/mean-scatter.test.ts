import { expect, test } from 'vitest'
import { momentsOf } from '../../src/numerics/samples/moments.ts'
import type { OptionDraws } from '../../src/simulation/sums/sum-layout.ts'
import { single, weibull, world } from '../worlds.ts'
import { drawn, priced } from './sharpened.ts'

test.each([
  ['nothing unknown', world([single({ failure: weibull(2, 9) })]), [4000]],
  [
    'lives, models and prices unknown, under eight blocks and with eight',
    { ...priced(), horizon_years: 10 },
    [4000, 8000],
  ],
] as const)('X3: sharpened means scatter as their error says: %s', async (_, blocks, sizes) => {
  const hasUnknowns = sizes.length > 1
  const found = new Map(sizes.map(draws => [draws, [] as { mean: number; error: number }[]]))
  for (let seed = 1; seed <= 40; seed++) {
    // the first draws of a longer run are those of a shorter one
    const kept = new Map<string, OptionDraws>()
    for (const [draws, runs] of found) {
      const { run } = await drawn(blocks, draws, seed, true, kept)
      const { mean, standardError } = run.estimate(run.layout.of('lifetimeCost'))
      runs.push({ mean, error: standardError })
    }
  }
  for (const [draws, runs] of found) {
    const scatter = Math.sqrt(momentsOf(runs.map(({ mean }) => mean)).squares / 39)
    const said = Math.sqrt(runs.reduce((sum, { error }) => sum + error * error, 0) / runs.length)
    // a deviation from 40 values is known to 11 %; under eight blocks the groups ignore the hypercube
    expect(said / scatter).toBeGreaterThan(0.7)
    expect(said / scatter).toBeLessThan(hasUnknowns && draws < 8000 ? 3 : 1.5)
  }
})
