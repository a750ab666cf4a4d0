import { describe, expect, test } from 'vitest'
import { downtimeNodes } from '../../src/numerics/renewal/downtime.ts'
import { type DelayNodes, expectedFailures } from '../../src/numerics/renewal/renewal.ts'
import availability from '../reference/availability.json' with { type: 'json' }
import fleet from '../reference/fleet.json' with { type: 'json' }
import discounted from '../reference/renewal-discounted.json' with { type: 'json' }
import other from '../reference/renewal-other-lifetimes.json' with { type: 'json' }
import weibull from '../reference/renewal-weibull.json' with { type: 'json' }
import policies from '../reference/replacement-policy.json' with { type: 'json' }
import { countDistribution } from './count-distribution.ts'
import { cdfOf, type ReferenceLife, weibullCdf } from './reference-lives.ts'
import { expectClose } from './relative.ts'

const AT_ONCE: DelayNodes = { nodesYears: Float64Array.of(0), weights: Float64Array.of(1) }
const ACCURACY = 3e-6
const COMPUTED = 'COMPUTED: power series, Laplace inversion'

/** Expected replacements of a slot whose units are replaced at once. */
function renewals(cdf: (t: number) => number, horizonYears: number, first = cdf) {
  return expectedFailures({ horizonYears, first, renewed: cdf, downtime: AT_ONCE })
}

/** One delay spread evenly over 400 strata of an exponential, each at its mean. */
function exponentialNodes(meanYears: number, n = 400): DelayNodes {
  const above = (x: number) => (x === Number.POSITIVE_INFINITY ? 0 : (x + 1) * Math.exp(-x))
  const edge = (i: number) => -Math.log1p(-i / n)
  const nodesYears = Float64Array.from({ length: n }, (_, i) => meanYears * n * (above(edge(i)) - above(edge(i + 1))))
  return { nodesYears, weights: new Float64Array(n).fill(1 / n) }
}

describe('X1: expected failures by the renewal equation', () => {
  test.each(weibull.cases)(`Weibull $lifetime.shape to $t (${COMPUTED})`, row => {
    const cdf = cdfOf({ ...row.lifetime, kind: 'weibull' })
    expectClose(renewals(cdf, row.t).byHorizon, row.value.expected_renewals, ACCURACY)
  })

  test.each(other.cases)(`$lifetime.kind to $t (${COMPUTED})`, row => {
    const cdf = cdfOf(row.lifetime as ReferenceLife) // JSON gives the kind as any string
    expectClose(renewals(cdf, row.t).byHorizon, row.value.expected_renewals, ACCURACY)
  })

  test.each(discounted.aged_unit)(`M2: a unit aged $age_now_years, shape $shape (${COMPUTED})`, row => {
    const hazard = (age: number) => (age / row.scale_years) ** row.shape
    const first = (t: number) => -Math.expm1(hazard(row.age_now_years) - hazard(row.age_now_years + t))
    expectClose(first(row.further_years), row.prob_fail_in_further_years, 1e-12)
    const result = renewals(weibullCdf(row.shape, row.scale_years), row.further_years, first)
    expectClose(result.byHorizon, row.expected_replacements, ACCURACY)
  })

  test.each(discounted.first_differs)(`a first unit unlike its replacements (${COMPUTED})`, row => {
    const first = weibullCdf(row.first.shape, row.first.scale_years)
    const renewed = weibullCdf(row.replacement.shape, row.replacement.scale_years)
    expectClose(renewals(renewed, row.horizon_years, first).byHorizon, row.expected_replacements, ACCURACY)
  })

  test.each(discounted.discounted)(
    `C2: failures by year, discounted at $annual_rate, shape $shape (${COMPUTED})`,
    row => {
      const { cumulative, stepYears } = renewals(weibullCdf(row.shape, row.scale_years), row.horizon_years)
      const perYear = Math.round(1 / stepYears)
      let endOfYear = 0
      let midYear = 0
      for (let year = 1; year <= row.horizon_years; year++) {
        const failures = (cumulative[year * perYear] ?? 0) - (cumulative[(year - 1) * perYear] ?? 0)
        endOfYear += failures * (1 + row.annual_rate) ** -year
        midYear += failures * (1 + row.annual_rate) ** -(year - 0.5)
      }
      expectClose(endOfYear, row.value.end_of_year, ACCURACY)
      expectClose(midYear, row.value.mid_year, ACCURACY)
    },
  )

  test.each(fleet.fleet_renewals)('M7: $units independent slots, shape $shape (COMPUTED: quadrature)', row => {
    const cdf = weibullCdf(row.shape, row.scale)
    const one = countDistribution(cdf, row.horizon)
    expectClose(row.units * renewals(cdf, row.horizon).byHorizon, row.expected_failures_fleet, ACCURACY)
    expectClose(row.units * one.variance, row.variance_fleet, 1e-5)
  })

  test.each(policies.block_replacement)(
    'shape $shape: failures within one block interval (COMPUTED: identity)',
    row => {
      const result = renewals(weibullCdf(row.shape, row.scale), row.optimal_interval)
      expectClose(result.byHorizon, row.expected_failures_per_interval, ACCURACY)
    },
  )
})

describe('X1, O1: downtime between failure and return', () => {
  test.each(availability.exponential)(
    'exponential life $mean_up_time and repair $mean_down_time (COMPUTED: closed form)',
    row => {
      // The row's times, in units of its horizon.
      const cdf = (t: number) => -Math.expm1((-t * row.time) / row.mean_up_time)
      const downtime = exponentialNodes(row.mean_down_time / row.time)
      const result = expectedFailures({ horizonYears: 1, first: cdf, renewed: cdf, downtime })
      expectClose(result.byHorizon, row.expected_failures_to_time, 1e-5)
    },
  )

  test.each(availability.weibull_fixed_repair)(
    'fixed repair, shape $up_shape: in the long run one failure a cycle (COMPUTED: closed form)',
    row => {
      const cdf = weibullCdf(row.up_shape, row.up_scale)
      const downtime = { nodesYears: Float64Array.of(row.fixed_down_time), weights: Float64Array.of(1) }
      const horizonYears = 400
      const { cumulative, stepYears } = expectedFailures({ horizonYears, first: cdf, renewed: cdf, downtime })
      const from = Math.round(200 / stepYears)
      const rate = ((cumulative.at(-1) ?? 0) - (cumulative[from] ?? 0)) / (horizonYears - from * stepYears)
      expectClose(rate, row.long_run_failures_per_time, 1e-5)
    },
  )

  test.each([0.7, 1, 2.2])('shape %d: a finer grid changes nothing that matters', shape => {
    const cdf = weibullCdf(shape, 14)
    const downtime = downtimeNodes(
      [
        { medianDays: 120, p90OverMedian: 5.8 },
        { medianDays: 20, p90OverMedian: 3.21 },
        { medianDays: 0.2, p90OverMedian: 1 },
      ],
      365,
    )
    const slot = { horizonYears: 25, first: cdf, renewed: cdf, downtime }
    expectClose(expectedFailures(slot).byHorizon, expectedFailures({ ...slot, stepsPerYear: 48 }).byHorizon, ACCURACY)
  })

  test('early failures and wear-out together agree with a plain sum of 9,600 steps', () => {
    const cdf = (t: number) => -Math.expm1(-((t / 400) ** 0.7) - (t / 38) ** 3.5)
    const downtime = downtimeNodes(
      [
        { medianDays: 30, p90OverMedian: 3.17 },
        { medianDays: 20, p90OverMedian: 2.16 },
      ],
      365,
    )
    const result = expectedFailures({ horizonYears: 25, first: cdf, renewed: cdf, downtime })
    expectClose(result.byHorizon, plainSum(cdf, downtime, 25, 9600), 1e-6)
  })

  test('a life of 10 years to the day, 36.5 days down: failures at 10 and 20.1 years', () => {
    const cdf = weibullCdf(10_000, 10)
    const downtime = { nodesYears: Float64Array.of(0.1), weights: Float64Array.of(1) }
    const { cumulative, stepYears } = expectedFailures({ horizonYears: 25, first: cdf, renewed: cdf, downtime })
    const by = (years: number) => cumulative[Math.round(years / stepYears)] ?? Number.NaN
    for (const [years, count] of [
      [9, 0],
      [11, 1],
      [19, 1],
      [21, 2],
      [25, 2],
    ] as const) {
      expect(Math.abs(by(years) - count)).toBeLessThan(1e-9)
    }
  })

  test('a horizon of 0 is refused', () => {
    const cdf = weibullCdf(1, 10)
    const slot = { horizonYears: 0, first: cdf, renewed: cdf, downtime: AT_ONCE }
    expect(() => expectedFailures(slot)).toThrow('expectedFailures: the horizon must be > 0, got 0')
  })
})

describe('the oracle for the spread of counts', () => {
  const cases = [...weibull.cases, ...other.cases].filter(row => row.t >= 1)
  test.each(cases)(`$lifetime to $t: variance and chances of at least 1, 2, 3 (${COMPUTED})`, row => {
    const counts = countDistribution(cdfOf(row.lifetime as ReferenceLife), row.t) // JSON gives the kind as any string
    expectClose(counts.expected, row.value.expected_renewals, 1e-5)
    expectClose(counts.variance, row.value.variance_renewals, 1e-5)
    expectClose(counts.atLeast[0] ?? 0, row.value.prob_at_least_1, 1e-9)
    expect(Math.abs((counts.atLeast[1] ?? 0) - row.value.prob_at_least_2)).toBeLessThan(1e-6)
    expect(Math.abs((counts.atLeast[2] ?? 0) - row.value.prob_at_least_3)).toBeLessThan(1e-6)
  })
})

/** The equation as a sum of increments at midpoints: slow, first order where the hazard is infinite at 0. */
function plainSum(cdf: (t: number) => number, downtime: DelayNodes, horizon: number, n: number): number {
  const h = horizon / n
  const cycle = Float64Array.from({ length: n }, (_, i) => {
    let sum = 0
    for (let j = 0; j < downtime.weights.length; j++) {
      const age = (i + 0.5) * h - (downtime.nodesYears[j] ?? 0)
      if (age > 0) sum += (downtime.weights[j] ?? 0) * cdf(age)
    }
    return sum
  })
  const gain = new Float64Array(n + 1)
  let count = 0
  for (let i = 1; i <= n; i++) {
    let sum = cdf(i * h)
    for (let j = 1; j < i; j++) sum += (gain[j] ?? 0) * (cycle[i - j] ?? 0)
    const next = (sum - count * (cycle[0] ?? 0)) / (1 - (cycle[0] ?? 0))
    gain[i] = next - count
    count = next
  }
  return count
}
