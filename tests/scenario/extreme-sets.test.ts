import { describe, expect, test } from 'vitest'
import { modesAt } from '../../src/scenario/failure-at.ts'
import type { Scenario } from '../../src/scenario/model.ts'
import { type Quantity, type Unknown, valueAt } from '../../src/scenario/quantity.ts'
import { readScenario } from '../../src/scenario/read-scenario.ts'

/** Scores of a set: the 10 % and 90 % points, one in 30,000, and about the farthest that a draw can come to. */
const SCORES = [-8.2, -4, -1.28, 1.28, 4, 8.2]

const MONEY = '{low: 20, high: 900}'
const SHARE = '{low: 1%, high: 99%}'
const GROWTH = '{low: -50%, high: 50%}'
const DAYS = '{low: 1, high: 300}'

/** A scenario with a wide range at every key that takes one; `failure` of the first component is put in. */
function wide(failure: string): Scenario {
  const text = `horizon_years: 12
site:
  panels: 8
  generation: {monthly_kwh: [90, 140, 220, 270, 300, 310, 310, 280, 220, 160, 100, 80]}
  energy_value: {import_price_per_kwh: {low: 0.05, high: 2}, export_price_per_kwh: {low: 0.01, high: 1},
    self_consumed: ${SHARE}, price_growth: ${GROWTH}, export_price_growth: ${GROWTH}}
visit: {call_out: ${MONEY}, roof_access: ${MONEY}, labour_growth: ${GROWTH}}
options:
  - name: All
    topology: string-optimisers
    upfront_cost: 7000
    yearly_cost: ${MONEY}
    battery: {value_per_day: {low: 0.1, high: 5}, without_sun: 20%, backup: true}
    warranty_provider: {name: maker, exit_rate_per_year: ${SHARE}}
    labour_provider: {name: installer, exit_rate_per_year: ${SHARE}}
    components:
      - kind: string-inverter
        ac_kw: 5
        failure: ${failure}
        downtime: {detect_days: ${DAYS}, respond_days: {median: ${DAYS}, p90: 400}, repair_days: ${DAYS}}
        replacement: {parts: ${MONEY}, labour: ${MONEY}, labour_each_further: ${MONEY}, parts_growth: ${GROWTH}}
        warranty: {years: 5, labour_years: 2, claim_success: ${SHARE}}
      - kind: optimiser
        count: 8
        takes_string_down: ${SHARE}
        replacement: {parts: ${MONEY}, labour: ${MONEY}, parts_growth: ${GROWTH}}
`
  return readScenario(text, 'wide.yaml', 'examples')
}

const BATCH = `bad_batch: {chance: ${SHARE}, affects: ${SHARE}, life_times: 0.1}`

/** Every form of a failure, each with ranges as wide as somebody might write. */
const FAILURES: readonly (readonly [form: string, failure: string])[] = [
  ['characteristic life', `{shape: {low: 0.06, high: 5000}, characteristic_life_years: {low: 2, high: 90}, ${BATCH}}`],
  ['B10', `{shape: {low: 0.06, high: 5000}, b10_years: {low: 2, high: 90}, ${BATCH}}`],
  ['mean life', `{shape: {low: 0.06, high: 5000}, mean_life_years: {low: 2, high: 90}, ${BATCH}}`],
  ['one share', `{failed_by: {10: ${SHARE}}, shape: {low: 0.06, high: 5000}, ${BATCH}}`],
  ['two shares', `{failed_by: {5: {low: 1%, high: 90%}, 20: {low: 2%, high: 99%}}, ${BATCH}}`],
  [
    'modes',
    `{modes: [{cause: a, susceptible: ${SHARE}, shape: 2, b10_years: {low: 2, high: 90}},
          {cause: b, susceptible: ${SHARE}, failed_by: {10: {low: 0.1%, high: 0.9%}}, shape: {low: 0.1, high: 9}}], ${BATCH}}`,
  ],
  ['evidence', `{model_spread: 2, ${BATCH}}`],
  ['evidence without spread', `{model_spread: 0, ${BATCH}}`],
  ['records', `{records: service-records-fit.json#wall-a, ${BATCH}}`],
]

/** All unknowns at one score. */
const scoresAt = (scenario: Scenario, score: number) => new Float64Array(scenario.unknowns.length).fill(score)

/** Every range in a scenario, with the path to it. */
function rangesIn(value: unknown, path = ''): [path: string, range: Unknown][] {
  if (typeof value !== 'object' || value === null || value instanceof Float64Array) return []
  if ('unknown' in value && 'scale' in value) return [[path, value as Unknown]]
  return Object.entries(value).flatMap(([key, below]) => rangesIn(below, path === '' ? key : `${path}.${key}`))
}

function inDomain(scale: Unknown['scale'], value: number): boolean {
  if (scale === 'log') return value > 0 && value < Infinity
  return scale === 'logit' ? value >= 0 && value <= 1 : value > -1 && value < Infinity
}

describe.each(FAILURES)('failures by %s', (_, failure) => {
  const scenario = wide(failure)

  test('U1a: in the far tails every ± value stays in its domain', () => {
    const ranges = rangesIn(scenario.options).concat(rangesIn(scenario.site), rangesIn(scenario.visit))
    expect(ranges.length).toBeGreaterThan(25)
    const left = ranges.flatMap(([path, range]) =>
      SCORES.map(score => [path, valueAt(range, scoresAt(scenario, score))] as const).filter(
        ([, value]) => !inDomain(range.scale, value),
      ),
    )
    expect(left).toEqual([])
  })

  test('U1a: in the far tails modes stay inside the limits of shapes and lives', () => {
    const model = scenario.options[0]?.populations[0]?.failure
    if (model === undefined) throw new Error('no population')
    for (const score of SCORES) {
      for (const { shape, lifeYears, susceptible } of modesAt(model, scoresAt(scenario, score), 1)) {
        expect(shape).toBeGreaterThanOrEqual(0.05)
        expect(shape).toBeLessThanOrEqual(10_000)
        expect(lifeYears).toBeGreaterThan(0)
        expect(lifeYears).toBeLessThan(Infinity)
        expect(susceptible).toBeGreaterThan(0)
        expect(susceptible).toBeLessThanOrEqual(1)
      }
    }
  })
})

test('U1a: a growth never falls below −99 % a year, where prices would have no power of a time', () => {
  // Of {low: -50%, high: 50%} one set in two hundred used to make a cost that was no number.
  const growth: Quantity = { unknown: 0, scale: 'linear', low: -0.5, middle: 0, high: 0.5 }
  expect(valueAt(growth, Float64Array.of(-1.2815515655446004))).toBeCloseTo(-0.5, 12)
  expect(valueAt(growth, Float64Array.of(-4))).toBe(-0.99)
  expect((1 + valueAt(growth, Float64Array.of(-8.2))) ** 0.5).toBeCloseTo(0.1, 12)
})

describe('M4: the spread between models that is taken where none is given', () => {
  const spreadOf = (failure: string) => wide(failure).options[0]?.populations[0]?.failure.modelSpread
  test.each([
    ['evidence', `{${BATCH}}`, 0.5],
    ['plain numbers', '{shape: 2, b10_years: 9}', 0.5],
    ['plain shares', '{failed_by: {10: 12%, 15: 35%}}', 0.5],
    ['plain modes', '{modes: [{cause: a, shape: 2, b10_years: 9}]}', 0.5],
    ['a range', '{shape: 2, b10_years: {low: 5, high: 20}}', 0],
    ['a range of a share', '{failed_by: {10: {low: 5%, high: 20%}}, shape: 2}', 0],
    ['a range in a mode', '{modes: [{cause: a, susceptible: {low: 1%, high: 5%}, shape: 2, b10_years: 9}]}', 0],
    ['records', '{records: service-records-fit.json#wall-a}', 0],
    ['a range, and a spread as well', '{shape: 2, b10_years: {low: 5, high: 20}, model_spread: 0.3}', 0.3],
    ['records, and a spread as well', '{records: service-records-fit.json#wall-a, model_spread: 0.3}', 0.3],
  ])('M4 default with %s', (_, failure, spread) => {
    expect(spreadOf(failure)).toBe(spread)
  })
})
