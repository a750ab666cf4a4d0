import { describe, expect, test } from 'vitest'
import { estimate } from '../../src/analysis/estimate.ts'
import type { Results } from '../../src/analysis/results.ts'
import { type RunnerOf, runHere } from '../../src/analysis/runner.ts'
import { readScenario } from '../../src/scenario/read-scenario.ts'
import type { Points } from '../../src/simulation/parameter-sets.ts'
import { runOptions } from '../worlds.ts'

/** One string inverter of known life, so that chance alone moves its cost. */
const ROOF = `
title: Even points
horizon_years: 20
site:
  panels: 10
  generation: {monthly_kwh: [200, 200, 200, 200, 200, 200, 200, 200, 200, 200, 200, 200]}
  energy_value: {import_price_per_kwh: 0.3, export_price_per_kwh: 0.1, self_consumed: 30%, price_growth: 0%, export_price_growth: 0%}
visit: {call_out: 100, roof_access: 0, labour_growth: 0%}
options:
  - name: One
    topology: string
    upfront_cost: 5000
    warranty_provider: {name: maker, exit_rate_per_year: 0}
    labour_provider: {name: fitter, exit_rate_per_year: 0}
    components:
      - kind: string-inverter
        ac_kw: 4
        failure: {shape: 2.2, characteristic_life_years: 14, model_spread: 0, bad_batch: {chance: 0, affects: 0, life_times: 0.5}}
        replacement: {parts: 1000, labour: 200, parts_growth: 0%}
        warranty: {years: 5, labour_years: 0, claim_success: 90%}
        downtime: {detect_days: 3, respond_days: 10, repair_days: 0.2, claim_days: 0}
`

async function play(points: Points, seed: number, draws = 8000, runnerOf: RunnerOf = runOptions): Promise<Results> {
  const settings = { draws, seed, points, tool: { name: 'lifetally', version: 'test' } }
  return estimate(readScenario(ROOF, 'even.yaml', '.'), settings, runnerOf, () => {})
}

describe('evenly spread first failures', () => {
  test('N1: do not change the expected failures', async () => {
    const { failures } = (await play('even', 1)).options[0]!
    expect(Math.abs(failures.mean - failures.exactMean!)).toBeLessThan(4 * failures.standardError)
  })

  test('X2: shrink the standard error of the mean cost, and the reported error is the true one', async () => {
    const even: Results[] = []
    for (let seed = 1; seed <= 12; seed++) even.push(await play('even', seed))
    const costs = even.map(result => result.options[0]!.lifetimeCost)
    const mean = costs.reduce((sum, cost) => sum + cost.mean, 0) / costs.length
    const spread = Math.sqrt(costs.reduce((sum, cost) => sum + (cost.mean - mean) ** 2, 0) / (costs.length - 1))
    const told = Math.sqrt(costs.reduce((sum, cost) => sum + cost.standardError ** 2, 0) / costs.length)
    const errorOf = async (draws: number) => (await play('random', 1, draws)).options[0]!.lifetimeCost.standardError
    // X3 sharpens means from 4,000 draws on: below, random points are plain
    const plain = (await errorOf(3000)) * Math.sqrt(3000 / 8000)
    expect(told).toBeLessThan(plain / 1.3)
    expect(told).toBeLessThan(await errorOf(8000))
    // a chi-square spread over 11 degrees of freedom leaves these bounds once in a few thousand
    expect(spread / told).toBeGreaterThan(0.35)
    expect(spread / told).toBeLessThan(1.9)
  })

  test('N3: the same seed gives the same results', async () => {
    expect(await play('even', 3, 4000, runHere)).toEqual(await play('even', 3, 4000, runHere))
  })
})
