import { quantileSorted } from 'simple-statistics'
import { expect, test } from 'vitest'
import { quantileErrors, worstTenth } from '../../src/analysis/option/quantile-errors.ts'
import { quantileError } from '../../src/numerics/samples/quantile-error.ts'
import { renderReport } from '../../src/report/estimate/render-estimate.ts'
import { homeResults } from '../report/fixture-home.ts'
import { uniforms } from './generator.ts'

const PS = [0.05, 0.5, 0.95]

/** Standard deviation of a figure over samples, and the mean of its reported error. */
function overSamples(sample: (random: () => number) => Float64Array, drawsPerSet: number, oneSet: boolean) {
  const random = uniforms(7)
  const samples = Array.from({ length: 200 }, () => sample(random))
  const deviation = (values: readonly number[]): number => {
    const mean = values.reduce((sum, value) => sum + value, 0) / values.length
    return Math.sqrt(values.reduce((sum, value) => sum + (value - mean) ** 2, 0) / (values.length - 1))
  }
  const meanOf = (values: readonly number[]): number => values.reduce((sum, value) => sum + value, 0) / values.length
  const said = samples.map(values => quantileErrors(values, PS, drawsPerSet, oneSet))
  const tenths = samples.map(values => worstTenth(values, drawsPerSet, oneSet))
  return [
    ...PS.map((p, place) => ({
      seen: deviation(
        samples.map(values =>
          quantileSorted(
            [...values].sort((a, b) => a - b),
            p,
          ),
        ),
      ),
      said: meanOf(said.map(errors => errors[place] ?? 0)),
    })),
    { seen: deviation(tenths.map(({ mean }) => mean)), said: meanOf(tenths.map(({ standardError }) => standardError)) },
  ]
}

// 200 samples know a deviation to 5 %: three times that, and a tenth for what the interval and ten groups leave out.
const near = ({ seen, said }: { seen: number; said: number }): void => {
  expect(said / seen).toBeGreaterThan(0.75)
  expect(said / seen).toBeLessThan(1.25)
}

test('X2: without ±, the error of a percentile is its spread from sample to sample', () => {
  for (const figure of overSamples(
    random => Float64Array.from({ length: 1000 }, () => -Math.log(1 - random())),
    1000,
    true,
  ))
    near(figure)
  const values = Float64Array.from({ length: 400 }, (_, i) => i)
  expect(quantileErrors(values, [0.5], 400, true)).toEqual([quantileError(values, 0.5)])
})

test('X2: with ±, draws of a set share what is unknown, and the error of a percentile shows it', () => {
  const sample = (random: () => number): Float64Array => {
    const values = new Float64Array(2000)
    for (let set = 0; set < 100; set++) {
      const shared = -Math.log(1 - random())
      for (let i = 0; i < 20; i++) values[20 * set + i] = 5 * shared - Math.log(1 - random())
    }
    return values
  }
  const figures = overSamples(sample, 20, false)
  figures.slice(1, 2).forEach(near)
  // tails of groups of 200 scatter more than a tenth of the whole: the error is never too small
  for (const { seen, said } of figures) expect(said / seen).toBeGreaterThan(0.7)
  const [blind = 0] = quantileErrors(sample(uniforms(3)), [0.5], 2000, true)
  expect(figures[1]?.said ?? 0).toBeGreaterThan(2 * blind)
})

test('X2: a percentile is rounded by its own error: 7,009 used to be printed as 0 where the mean is uncertain', () => {
  const home = homeResults()
  const results = {
    ...home,
    options: home.options.map(option => ({
      ...option,
      lifetimeCost: {
        ...option.lifetimeCost,
        standardError: 9000,
        p5: 7009,
        p90: 8123,
        standardErrors: { ...option.lifetimeCost.standardErrors, p5: 1, p90: 1 },
      },
    })),
  }
  const page = renderReport(results, { audience: 'retailer', command: 'lifetally estimate home.yaml' })
  expect(page).toContain('7,009')
  expect(page).toContain('8,123')
})
