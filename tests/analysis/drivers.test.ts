import { describe, expect, test } from 'vitest'
import { drivers } from '../../src/analysis/sensitivity/drivers.ts'
import { type ParameterSet, ParameterSets } from '../../src/simulation/parameter-sets.ts'
import { first, play, read, single, weibull, world } from '../worlds.ts'
import { uniforms } from './generator.ts'

const range = (low: number, high: number) => ({ low, high })
/** Two options; both unknowns belong to the first. */
const SCENARIO = read(
  world([
    single({ failure: weibull(2, 9), replacement: { parts: range(600, 1500), labour: range(100, 400) } }),
    single({}, { upfront_cost: 9000 }, 'Two'),
  ]),
)
const SETS = (() => {
  const sets = new ParameterSets(SCENARIO, 1, 'random')
  return Array.from({ length: 20 }, (_, block) => sets.ofBlock(block, 50)).flat()
})()

/** Differences made of two scores and of chance, 20 draws a set. */
function made(first: number, second: number, chance: number): Float64Array {
  const random = uniforms(7)
  const noise = () => Array.from({ length: 12 }, random).reduce((sum, value) => sum + value, -6)
  const value = ({ scores }: ParameterSet) => first * (scores[0] ?? 0) + second * (scores[1] ?? 0)
  return Float64Array.from(SETS.flatMap(set => Array.from({ length: 20 }, () => value(set) + chance * noise())))
}
const sharesOf = (differences: Float64Array) => drivers(SCENARIO, [0, 1], SETS, differences, 20)
const labels = SCENARIO.unknowns.map(({ label }) => label)

describe('S3: what the difference depends on', () => {
  test('S3: the one unknown that matters is listed first, with the whole share', () => {
    const found = sharesOf(made(100, 0, 0))
    expect(first(found).input).toBe(labels[0])
    expect(first(found).share).toBeGreaterThan(0.99)
    expect(found.map(({ input }) => input)).not.toContain(labels[1])
  })

  test('S3: shares are those of the variance, the draws within sets taken off, whatever the chance', () => {
    for (const chance of [0, 100, 400]) {
      const found = sharesOf(made(100, 200, chance))
      expect(found.map(({ input }) => input).slice(0, 2)).toEqual([labels[1], labels[0]])
      const [second, one] = found
      // rank correlation of normals: (6/π asin(ρ/2))²; 1,000 sets know it to about 0.03
      const ranked = (share: number) => ((6 / Math.PI) * Math.asin(Math.sqrt(share) / 2)) ** 2
      expect(Math.abs((second?.share ?? 0) - ranked(0.8))).toBeLessThan(0.09)
      expect(Math.abs((one?.share ?? 0) - ranked(0.2))).toBeLessThan(0.09)
    }
  })

  test('S3: from 5 % on, the rest as others; the shares make 1', () => {
    const found = sharesOf(made(100, 15, 0))
    expect(found.map(({ input }) => input)).toEqual([labels[0], 'others'])
    expect(found.reduce((sum, { share }) => sum + share, 0)).toBeCloseTo(1, 12)
  })

  test('S3: shares add up to at most 100 %, however few the sets and however large the chance; they used to reach 278 %', () => {
    for (const sets of [3, 10, 50])
      for (const chance of [0, 200, 800, 3000]) {
        const few = SETS.slice(0, sets)
        const found = drivers(SCENARIO, [0, 1], few, made(100, 100, chance).subarray(0, 20 * sets), 20)
        if (found.length > 0) expect(found.reduce((sum, { share }) => sum + share, 0)).toBeCloseTo(1, 9)
        for (const { share, standardError } of found) {
          expect(share).toBeLessThanOrEqual(1 + 1e-12)
          expect(standardError).toBeGreaterThanOrEqual(0)
        }
      }
  })

  test('S3: sets that differ by chance alone have no drivers', () => {
    expect(sharesOf(made(0, 0, 0))).toEqual([])
    const even = Float64Array.from({ length: 20_000 }, (_, draw) => draw % 2)
    expect(sharesOf(even)).toEqual([])
  })

  test('S3: a played scenario names the price that moves the difference', async () => {
    const options = [
      single({ failure: weibull(3, 6), replacement: { parts: range(300, 3000), labour: range(199, 201) } }),
      single({}, { upfront_cost: 8000 }, 'Two'),
    ]
    const { drivers: found, comparisons } = await play(world(options, { horizon_years: 12 }), { draws: 600 })
    expect(first(found).input).toContain('parts')
    expect(first(found).share).toBeGreaterThan(0.9)
    expect(first(comparisons).varianceShares.unknownShare).toBeGreaterThan(0.5)
  })

  test('S3: an unknown of a third option is no driver of the two best', async () => {
    const worst = single(
      { failure: weibull(2, 5), replacement: { parts: range(2000, 9000) } },
      { upfront_cost: 20_000 },
      'Three',
    )
    const pair = [
      single({ failure: weibull(3, 6), replacement: { parts: range(300, 3000) } }),
      single({}, { upfront_cost: 8000 }, 'Two'),
    ]
    const { drivers: found } = await play(world([...pair, worst], { horizon_years: 12 }), { draws: 300 })
    expect(found.map(({ input }) => input).filter(input => input.includes('Three'))).toEqual([])
    expect(found.length).toBeGreaterThan(0)
  })
})
