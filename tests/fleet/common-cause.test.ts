import { describe, expect, test } from 'vitest'
import { ChunkPlayer } from '../../src/fleet/play/chunk.ts'
import { FleetChance, type FleetModel } from '../../src/fleet/play/fleet-chance.ts'
import { FleetSets } from '../../src/fleet/play/fleet-sets.ts'
import { latinColumn } from '../../src/numerics/random/latin-hypercube.ts'
import { streamKey } from '../../src/numerics/random/streams.ts'
import { momentsOf, varianceOf } from '../../src/numerics/samples/moments.ts'
import { gammaQuantile } from '../../src/numerics/special.ts'
import { readScenario } from '../../src/scenario/read-scenario.ts'
import { BlockPlayer, blockTasks, prepare } from '../../src/simulation/run.ts'
import { apartTemplate, homeTemplate, opened, playedChunk, siteTable, writeFleet } from './fleets.ts'

function totals(column: Float64Array, draws: number): Float64Array {
  const years = column.length / draws
  return Float64Array.from({ length: draws }, (_, draw) =>
    column.subarray(draw * years, (draw + 1) * years).reduce((sum, value) => sum + value, 0),
  )
}

/** Variance with its standard error from the fourth moment. */
function varianceWithError(values: Float64Array): { variance: number; error: number } {
  const { mean, count } = momentsOf(values)
  const variance = varianceOf(momentsOf(values))
  const fourth = momentsOf(values.map(value => (value - mean) ** 4)).mean
  return { variance, error: Math.sqrt((fourth - variance ** 2) / count) }
}

describe('common cause (F3, F7)', () => {
  const draws = 1000

  test('where nothing is shared the pooled variance is the sum of variances, within 4 standard errors', async () => {
    const { sums, singleVariance } = await playedChunk(writeFleet(apartTemplate(), siteTable(150)), draws)
    const { variance, error } = varianceWithError(totals(sums.cash, draws))
    expect(Math.abs(variance - Number(singleVariance[0])) / error).toBeLessThan(4)
  })

  test('shared causes make it many times that sum; a random order for each site restores the sum', async () => {
    const { sums, singleVariance } = await playedChunk(writeFleet(homeTemplate(), siteTable(150)), draws)
    const alone = Number(singleVariance[0])
    const pooled = varianceWithError(totals(sums.cash, draws))
    expect((pooled.variance - alone) / pooled.error).toBeGreaterThan(8)
    const apart = varianceWithError(totals(sums.independentCash, draws))
    expect(Math.abs(apart.variance - alone) / apart.error).toBeLessThan(4)
    // the same lifetimes, paired otherwise
    const sum = (column: Float64Array) => column.reduce((total, cents) => total + cents, 0)
    expect(sum(sums.independentCash)).toBe(sum(sums.cash))
  })
})

describe('M2 in a fleet: survivors of all sites of the file count', () => {
  const component =
    'failure: {shape: 2, characteristic_life_years: 20, model_spread: 0.5, bad_batch: {chance: 0%}, none_failed_so_far: true}'
  const draws = 50

  async function multipliers(template: string) {
    const { census } = await opened(writeFleet(template, siteTable(40)), draws)
    const alder = census.frame.models.find(model => model.name === 'alder') as FleetModel
    const chance = new FleetChance(1, new FleetSets(1, draws), census.frame.models)
    return { census, drawn: chance.drawsOf(alder.scenario, 0).multipliers }
  }

  function wanted(survivedHazard: number): Float64Array {
    const uniforms = latinColumn(streamKey(1, JSON.stringify(['unknown', 'model_spread alder'])), 0, draws)
    return uniforms.map(uniform => gammaQuantile(uniform, 4, 1 / (4 + survivedHazard)))
  }

  test('the multiplier of a model is gamma of shape 4 and rate 4 + ΣH over its sites', async () => {
    const { drawn, census } = await multipliers(homeTemplate({ component }))
    const ages = Array.from({ length: 40 }, (_, n) => n)
      .filter(n => n % 3 !== 0)
      .map(n => (n % 7) * 1.5)
    const expected = wanted(ages.reduce((sum, age) => sum + (age / 20) ** 2, 0))
    drawn.forEach((multiplier, draw) => {
      expect(multiplier / (expected[draw] ?? 0)).toBeCloseTo(1, 10)
    })
    expect(census.uncountedSurvivors).toBe(false)
  })

  test('without the flag survivors change nothing, and the report says so', async () => {
    const { drawn, census } = await multipliers(
      homeTemplate({ component: component.replace(', none_failed_so_far: true', '') }),
    )
    const expected = wanted(0)
    drawn.forEach((multiplier, draw) => {
      expect(multiplier / (expected[draw] ?? 0)).toBeCloseTo(1, 10)
    })
    expect(census.uncountedSurvivors).toBe(true)
  })
})

describe('a fleet is the sum of its sites', () => {
  test('F2: each site alone, added up, gives the same whole numbers', async () => {
    const { census, tickets } = await opened(writeFleet(homeTemplate(), siteTable(25)), 40)
    const together = new ChunkPlayer(census.frame).play(tickets)
    const sum = Object.fromEntries(
      Object.entries(together.sums).map(([column, values]) => [column, new Float64Array(values.length)]),
    )
    for (const ticket of tickets) {
      const alone = new ChunkPlayer(census.frame).play([ticket])
      for (const [column, values] of Object.entries(alone.sums))
        values.forEach((value, i) => {
          const total = sum[column]
          if (total !== undefined) total[i] = (total[i] ?? 0) + value
        })
    }
    expect(sum).toEqual(together.sums)
  })

  test('F3: means agree with a loop over single roofs of other seeds, within 4.5 standard errors', async () => {
    const draws = 4000
    const sites = 6
    const { sums } = await playedChunk(writeFleet(homeTemplate(), siteTable(sites)), draws)
    let cash = 0
    let failures = 0
    // of the single roofs, from the spread of their blocks
    let cashVariance = 0
    let failureVariance = 0
    for (let n = 0; n < sites; n++) {
      const text = homeTemplate({ component: `age_years: ${(n % 7) * 1.5}` }).replace(
        'degradation',
        `annual_kwh: ${2500 + 100 * n}, degradation`,
      )
      const player = new BlockPlayer([prepare(readScenario(text, 'home.yaml', '.'), 50 + n)])
      const blocks = blockTasks(0, 10_000, false).map(task => player.play(task))
      const perDraw = (of: (block: (typeof blocks)[number]) => Float64Array) =>
        momentsOf(blocks.map(block => of(block).reduce((sum, value) => sum + value, 0) / block.draws))
      const paid = perDraw(block => block.byYear.cash)
      const failed = perDraw(block => block.byYear.failures)
      cash += paid.mean
      failures += failed.mean
      cashVariance += varianceOf(paid) / blocks.length
      failureVariance += varianceOf(failed) / blocks.length
    }
    const fleetCash = momentsOf(totals(sums.cash, draws).map(cents => cents / 100))
    const fleetFailures = momentsOf(totals(sums.failures, draws))
    expect(Math.abs(fleetCash.mean - cash) / Math.sqrt(varianceOf(fleetCash) / draws + cashVariance)).toBeLessThan(4.5)
    expect(
      Math.abs(fleetFailures.mean - failures) / Math.sqrt(varianceOf(fleetFailures) / draws + failureVariance),
    ).toBeLessThan(4.5)
  })
})
