import { beforeAll, describe, expect, test } from 'vitest'
import { deviationFigure, meanFigure, meanQuantileFigure, quantileFigure } from '../../src/fleet/findings/figures.ts'
import type { ValueWithError } from '../../src/fleet/fleet-results.ts'
import { ChunkPlayer } from '../../src/fleet/play/chunk.ts'
import { latinColumn } from '../../src/numerics/random/latin-hypercube.ts'
import { openStream, streamKey } from '../../src/numerics/random/streams.ts'
import { momentsOf, varianceOf } from '../../src/numerics/samples/moments.ts'
import { chiSquareQuantile, normalQuantile } from '../../src/numerics/special.ts'
import { apartTemplate, homeTemplate, opened, siteTable, writeFleet } from './fleets.ts'

const SEEDS = 30
/** Ratio of the scatter over 30 seeds to the error that is reported; chance of a false alarm 2 in 100,000 each. */
const LEAST = Math.sqrt(chiSquareQuantile(1e-5, SEEDS - 1) / (SEEDS - 1))
const MOST = Math.sqrt(chiSquareQuantile(1 - 1e-5, SEEDS - 1) / (SEEDS - 1))

function scatterOf(figures: readonly ValueWithError[]): { scatter: number; reported: number; ratio: number } {
  const scatter = Math.sqrt(varianceOf(momentsOf(figures.map(({ value }) => value))))
  const reported = momentsOf(figures.map(({ standardError }) => standardError)).mean
  return { scatter, reported, ratio: scatter / reported }
}

function normals(seed: number, name: string, n: number): Float64Array {
  const stream = openStream(streamKey(seed, name), 0)
  return Float64Array.from({ length: n }, () => normalQuantile(stream.coarse()))
}

describe('F7b: errors of independent draws are those of their scatter', () => {
  const samples = Array.from({ length: SEEDS }, (_, seed) => normals(seed, 'a', 1000))
  test.each([
    ['mean', (sample: Float64Array) => meanFigure(sample)],
    ['median', (sample: Float64Array) => quantileFigure(sample, 0.5)],
    ['95 %', (sample: Float64Array) => quantileFigure(sample, 0.95)],
    ['standard deviation', (sample: Float64Array) => deviationFigure(sample)],
  ])('%s', (_, figure) => {
    const { ratio } = scatterOf(samples.map(figure))
    expect(ratio).toBeGreaterThan(LEAST)
    expect(ratio).toBeLessThan(MOST)
  })

  test.each([0, 0.6])('mean of the quantiles of three columns that share %f of their variance', share => {
    const figures = samples.map((common, seed) =>
      meanQuantileFigure(
        [0, 1, 2].map(column =>
          normals(seed, `column ${column}`, 1000).map(
            (own, draw) => Math.sqrt(1 - share) * own + Math.sqrt(share) * (common[draw] ?? 0),
          ),
        ),
        0.9,
      ),
    )
    const { ratio } = scatterOf(figures)
    expect(ratio).toBeGreaterThan(LEAST)
    expect(ratio).toBeLessThan(MOST)
  })

  test('one column is the quantile; values that are all equal have no error', () => {
    const [sample = new Float64Array()] = samples
    const one = quantileFigure(sample, 0.9)
    expect(meanQuantileFigure([sample], 0.9).value).toBe(one.value)
    expect(meanQuantileFigure([sample], 0.9).standardError / one.standardError).toBeCloseTo(1, 2)
    for (const figure of [meanFigure, deviationFigure, (same: Float64Array) => quantileFigure(same, 0.5)])
      expect(figure(new Float64Array(50).fill(3)).standardError).toBe(0)
  })
})

describe('F7b: errors of a fleet against the scatter of seeds', () => {
  const DRAWS = 120
  /** Cash to the horizon by seed and draw. */
  async function played(template: string): Promise<Float64Array[]> {
    const path = writeFleet(template.replace('horizon_years: 15', 'horizon_years: 8'), siteTable(6))
    const totals: Float64Array[] = []
    for (let seed = 1; seed <= SEEDS; seed++) {
      const { census, tickets } = await opened(path, DRAWS, seed)
      const { cash } = new ChunkPlayer(census.frame).play(tickets).sums
      const years = cash.length / DRAWS
      totals.push(
        Float64Array.from({ length: DRAWS }, (_, draw) =>
          cash.subarray(draw * years, (draw + 1) * years).reduce((sum, cents) => sum + cents / 100, 0),
        ),
      )
    }
    return totals
  }

  let apart: Float64Array[]
  beforeAll(async () => {
    apart = await played(apartTemplate())
  }, 60_000)

  test.each([
    ['mean', meanFigure],
    ['9 of 10', (values: Float64Array) => quantileFigure(values, 0.9)],
    ['spread', deviationFigure],
  ])('with nothing shared: %s', (_, figure) => {
    const { ratio } = scatterOf(apart.map(figure))
    expect(ratio).toBeGreaterThan(LEAST)
    expect(ratio).toBeLessThan(MOST)
  })

  test('with nothing shared every seed reports about the same error (ten groups gave 127 to 372 for 297)', () => {
    const errors = apart.map(values => meanFigure(values).standardError)
    const middle = momentsOf(errors).mean
    // s of 120 draws is known to about 7 %; ten groups to 24 %
    for (const error of errors) expect(Math.abs(error / middle - 1)).toBeLessThan(0.35)
    expect(Math.sqrt(varianceOf(momentsOf(errors))) / middle).toBeLessThan(0.12)
  })

  test('with common cause the seeds scatter at most so much: the hypercube only helps', async () => {
    const shared = await played(homeTemplate())
    for (const figure of [meanFigure, (values: Float64Array) => quantileFigure(values, 0.9)]) {
      const { ratio } = scatterOf(shared.map(figure))
      expect(ratio).toBeLessThan(MOST)
    }
  }, 60_000)

  test('an unknown of one hypercube is far better known than s/√n says', () => {
    const means = Array.from({ length: SEEDS }, (_, seed) =>
      meanFigure(latinColumn(streamKey(seed, 'x'), 0, DRAWS).map(normalQuantile)),
    )
    expect(scatterOf(means).ratio).toBeLessThan(0.2)
  })
})
