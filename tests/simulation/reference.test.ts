import { describe, expect, test } from 'vitest'
import fleet from '../reference/fleet.json' with { type: 'json' }
import renewal from '../reference/renewal-weibull.json' with { type: 'json' }
import policy from '../reference/replacement-policy.json' with { type: 'json' }
import warranty from '../reference/warranty.json' with { type: 'json' }
import { type Block, first, livesOf, playOptions, single, weibull, world, zOf } from '../worlds.ts'

/** Largest distance of a simulated mean from its exact value, in standard errors. */
const FAR = 4

describe('W3: paid replacements against the renewal recursion (COMPUTED)', () => {
  const RULES = [
    ['remaining', 'remaining_term_only'],
    ['new-if-bought', 'fresh_term_on_purchase'],
    ['renewed', 'renewing'],
  ] as const
  const cases = warranty.cases
    .slice(0, 6)
    .flatMap(row => RULES.map(([cover, key]) => ({ row, cover, key, shape: row.shape, term: row.warranty_years })))

  test.each(cases)('$shape, $term years, $cover', async ({ row, cover, key }) => {
    const one = single({
      failure: weibull(row.shape, row.scale_years),
      replacement: { parts: 1 },
      warranty: { years: row.warranty_years, replacement_cover: cover },
    })
    const blocks = world([one], { horizon_years: row.horizon_years })
    const { costs, costStandardErrors } = first((await playOptions(blocks, { draws: 2000 })).options)
    const expected = row.expected_paid_replacements[key]
    expect(Math.abs(costs.parts - expected) / costStandardErrors.parts).toBeLessThan(FAR)
  })
})

describe('M1, M3: counts of failures against the renewal function (COMPUTED)', () => {
  test('means, variances and chances of 63 cases: each within 4 standard errors, nineteen in twenty within 2', () => {
    const scores = renewal.cases.flatMap(({ lifetime, t, value }) => {
      const one = single({ failure: weibull(lifetime.shape, (10 * lifetime.scale) / t) })
      const counts = livesOf(world([one], { horizon_years: 10 }), 500).map(({ rows }) => rows.length)
      const chance = (least: number) => counts.map(count => (count >= least ? 1 : 0))
      const variance = counts.map(count => (count - value.expected_renewals) ** 2)
      // a share seen a handful of times has no standard error to speak of
      const rare = (share: number) => Math.min(share, 1 - share) * counts.length < 20
      return [
        rare(value.prob_at_least_1) ? 0 : zOf(counts, value.expected_renewals),
        rare(value.prob_at_least_1) ? 0 : zOf(variance, value.variance_renewals),
        rare(value.prob_at_least_2) ? 0 : zOf(chance(2), value.prob_at_least_2),
      ]
    })
    expect(Math.max(...scores.map(Math.abs))).toBeLessThan(FAR)
    const drawn = scores.filter(score => score !== 0)
    expect(drawn.length).toBeGreaterThan(100)
    expect(drawn.filter(score => Math.abs(score) < 2).length / drawn.length).toBeGreaterThan(0.9)
  })
})

describe('M7: many units (COMPUTED)', () => {
  test.each(fleet.first_failures)(
    '$units units of shape $shape by $time: how many have failed, and the chance of k',
    row => {
      const one = single({ count: row.units, failure: weibull(row.shape, row.scale) })
      const lives = livesOf(world([one], { horizon_years: Math.max(1, Math.ceil(row.time)) }), 1500)
      const failed = lives.map(
        ({ rows }) => rows.filter(({ before, failedAt }) => before < 0 && failedAt <= row.time).length,
      )
      expect(Math.abs(zOf(failed, row.expected_first_failures))).toBeLessThan(FAR)
      for (const [k, chance] of Object.entries(row.prob_at_least_k_units_failed)) {
        const share = failed.filter(count => count >= Number(k)).length / failed.length
        const error = Math.sqrt((chance * (1 - chance)) / failed.length)
        // rare enough to be seen at most a handful of times: the share is then Poisson
        if (chance * failed.length > 5) expect(Math.abs(share - chance) / error).toBeLessThan(FAR)
      }
    },
  )

  test.each(fleet.fleet_renewals.slice(0, 2))('$units units over $horizon: mean and variance of all failures', row => {
    const one = single({ count: row.units, failure: weibull(row.shape, row.scale) })
    const counts = livesOf(world([one], { horizon_years: row.horizon }), 1500).map(({ rows }) => rows.length)
    expect(Math.abs(zOf(counts, row.expected_failures_fleet))).toBeLessThan(FAR)
    const squares = counts.map(count => (count - row.expected_failures_fleet) ** 2)
    expect(Math.abs(zOf(squares, row.variance_fleet))).toBeLessThan(FAR)
  })
})

describe('M6: planned replacement against the long-run cost rate (COMPUTED)', () => {
  // over 60 years the rate lies near its limit; the exact finite mean is the renewal-reward one to first order
  test.each(policy.age_replacement.filter(row => row.scale < 20).slice(0, 3))(
    'shape $shape, scale $scale, planned $planned_cost against $failure_cost',
    row => {
      const one: Block = single({
        failure: weibull(row.shape, row.scale / 10),
        replace_at_age_years: row.optimal_age / 10,
      })
      const lives = livesOf(world([one], { horizon_years: 60 }), 300)
      // counted from cycle to cycle, so that the start and the horizon do not matter
      const cycles = lives.flatMap(({ rows }) =>
        rows.slice(0, 20).map(r => ({
          length: 10 * (r.failedAt - r.fittedAt),
          cost: r.action === 2 ? row.planned_cost : row.failure_cost,
        })),
      )
      const gaps = cycles.map(({ length, cost }) => cost - row.min_cost_rate * length)
      expect(cycles.length).toBeGreaterThan(5000)
      expect(Math.abs(zOf(gaps, 0))).toBeLessThan(FAR)
    },
  )
})

describe('M4: spread between models and bad batches', () => {
  test('survival averaged over models is (1 + c²H)^(−1/c²); models of one name share m', async () => {
    const spread = 0.8
    const one = (name: string) =>
      single({ model: 'shared', failure: weibull(2, 12, { model_spread: spread }) }, {}, name)
    const result = await playOptions(world([one('A'), one('B')], { horizon_years: 10 }), { draws: 8000 })
    const { options } = result
    const hazard = (10 / 12) ** 2
    const failed = 1 - (1 + spread ** 2 * hazard) ** (-1 / spread ** 2)
    for (const { populations } of options) {
      const { mean, standardError } = first(populations).firstFailures
      expect(Math.abs(mean - failed) / standardError).toBeLessThan(FAR)
    }
    expect(result.parameterSets).toBe(400)
  })

  test('a batch hits a model in every option alike, each unit with `affects`; replacements come from good stock', () => {
    const batch = { chance: 0.4, affects: 0.5, life_times: 0.1 }
    const failure = { shape: 5000, characteristic_life_years: 10, model_spread: 0, bad_batch: batch }
    const one = (name: string) => single({ model: 'shared', count: 30, failure }, {}, name)
    const blocks = world([one('A'), one('B')], { horizon_years: 9 })
    const hits = [0, 1].map(place => livesOf(blocks, 800, place).map(({ rows }) => rows.length))
    const struck = hits.map(counts => counts.map(count => count > 0))
    expect(struck[0]).toEqual(struck[1])
    expect(hits[0]).not.toEqual(hits[1])
    const share = (struck[0] ?? []).map(Number)
    expect(Math.abs(zOf(share, 0.4))).toBeLessThan(FAR)
    const inBad = (hits[0] ?? []).filter(count => count > 0)
    expect(Math.abs(zOf(inBad, 15))).toBeLessThan(FAR)
    // hit units fail once, at 1 year; their replacements live 10
    const rows = livesOf(blocks, 50).flatMap(life => life.rows)
    expect(rows.every(row => row.before < 0 && Math.abs(row.failedAt - 1) < 0.01)).toBe(true)
  })
})

describe('M1, M2: several modes, aged units', () => {
  const modes = [
    { cause: 'early', susceptible: 0.2, shape: 0.7, characteristic_life_years: 1 },
    { cause: 'wear', shape: 3, characteristic_life_years: 10 },
  ]
  const survival = (age: number) => (0.8 + 0.2 * Math.exp(-(age ** 0.7))) * Math.exp(-((age / 10) ** 3))

  test('M1: survival is the product over modes; the mode is drawn by its share of the hazard', () => {
    // the mode is asked for by a repair only; what follows the first failure is not looked at
    const restore = { repair: { renews: 1, parts: 1, labour: 1 } }
    const one = single({ count: 50, failure: { modes, model_spread: 0, bad_batch: { chance: 0 } }, restore })
    const lives = livesOf(world([one], { horizon_years: 8 }), 400)
    for (const at of [1, 4, 8]) {
      const failed = lives.map(({ rows }) => rows.filter(row => row.before < 0 && row.failedAt <= at).length)
      expect(Math.abs(zOf(failed, 50 * (1 - survival(at))))).toBeLessThan(FAR)
    }
    // first failures by the early mode: ∫ h_early S
    let early = 0
    const step = 0.0005
    for (let t = step / 2; t < 8; t += step) {
      const alive = 0.2 * Math.exp(-(t ** 0.7))
      early += step * ((alive * 0.7 * t ** -0.3) / (0.8 + alive)) * survival(t)
    }
    const byEarly = lives.map(({ rows }) => rows.filter(row => row.before < 0 && row.mode === 0).length)
    expect(Math.abs(zOf(byEarly, 50 * early))).toBeLessThan(FAR)
  })

  test('M2: a unit of some age has survived to it', () => {
    const one = single({ age_years: 6, count: 50, failure: { modes, model_spread: 0, bad_batch: { chance: 0 } } })
    const lives = livesOf(world([one], { horizon_years: 3 }), 400)
    const failed = lives.map(({ rows }) => rows.filter(row => row.before < 0).length)
    expect(Math.abs(zOf(failed, 50 * (1 - survival(9) / survival(6))))).toBeLessThan(FAR)
  })

  test('M2: among survivors the share of hit units is that which their survival leaves', () => {
    const batch = { chance: 1, affects: 0.5, life_times: 0.5 }
    const one = single({ age_years: 6, count: 40, failure: weibull(2, 10, { bad_batch: batch }) })
    const lives = livesOf(world([one], { horizon_years: 3 }), 500)
    const s = (age: number) => Math.exp(-((age / 10) ** 2))
    const hit = (0.5 * s(12)) / (0.5 * s(12) + 0.5 * s(6))
    const fails = hit * (1 - s(18) / s(12)) + (1 - hit) * (1 - s(9) / s(6))
    const failed = lives.map(({ rows }) => rows.filter(row => row.before < 0).length)
    expect(Math.abs(zOf(failed, 40 * fails))).toBeLessThan(FAR)
  })

  test('M2: none_failed_so_far changes the model’s multiplier and the batch, else both keep their prior', async () => {
    const played = async (flag: boolean) => {
      const failure = weibull(2, 10, { model_spread: 0.5, none_failed_so_far: flag })
      const one = single({ age_years: 6, count: 10, failure })
      const { options } = await playOptions(world([one], { horizon_years: 4 }), { draws: 6000 })
      return first(first(options).populations).firstFailures
    }
    const rise = 1 - 0.6 ** 2
    // m gamma of shape 4 and rate 4 (+ ΣH): mean survival of the rise is (rate/(rate + ΔH))^4
    const failing = (rate: number) => 10 * (1 - (rate / (rate + rise)) ** 4)
    const [prior, told] = [await played(false), await played(true)]
    expect(Math.abs(prior.mean - failing(4)) / prior.standardError).toBeLessThan(FAR)
    expect(Math.abs(told.mean - failing(4 + 10 * 0.36)) / told.standardError).toBeLessThan(FAR)
  })

  test('M3: after a repair that renews q the age is (1 − q) of that at failure; limited modes are cured; at_most counts', () => {
    const repair = (renews: number, failure: Block, atMost = 1000) =>
      single({ failure, restore: { repair: { renews, parts: 1, labour: 1, at_most: atMost } } })
    // minimal repair: failures are a Poisson process of the cumulative hazard
    const minimal = livesOf(world([repair(0, weibull(2, 10))]), 1500).map(({ rows }) => rows.length)
    expect(Math.abs(zOf(minimal, 4))).toBeLessThan(FAR)
    expect(
      Math.abs(
        zOf(
          minimal.map(count => (count - 4) ** 2),
          4,
        ),
      ),
    ).toBeLessThan(FAR)
    // half renewed: a unit that fails at 8 comes back 4 old and lasts 4 more, again and again
    const half = livesOf(world([repair(0.5, weibull(5000, 8))]), 1)[0]?.rows.map(row => Math.round(row.failedAt))
    expect(half).toEqual([8, 12, 16, ...(half?.length === 4 ? [20] : [])])
    // cured: the only mode touches half of the units, each once at most
    const limited = {
      modes: [{ cause: 'a', susceptible: 0.5, shape: 3, characteristic_life_years: 5 }],
      model_spread: 0,
      bad_batch: { chance: 0 },
    }
    const cured = livesOf(world([repair(1, limited)]), 800).map(({ rows }) => rows.length)
    expect(Math.max(...cured)).toBe(1)
    expect(Math.abs(zOf(cured, 0.5))).toBeLessThan(FAR)
    const actions = livesOf(world([repair(0.5, weibull(5000, 4), 2)]), 1)[0]?.rows.map(row => row.action)
    expect(actions?.slice(0, 4)).toEqual([1, 1, 0, 1])
  })
})
