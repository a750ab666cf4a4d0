import { describe, expect, test } from 'vitest'
import { drawUntil } from '../../src/analysis/means/draw-option.ts'
import { LEAST_FAILURES } from '../../src/analysis/means/mean-controls.ts'
import { errorShare } from '../../src/analysis/means/precision.ts'
import { OptionRun } from '../../src/analysis/option/option-run.ts'
import { comparedFailures, expectedFirst } from '../../src/history/expected-failures.ts'
import { momentsOf, standardErrorOf } from '../../src/numerics/samples/moments.ts'
import { middleSet, parameterSetsOf } from '../../src/simulation/parameter-sets.ts'
import { localRunner, planOf, prepare } from '../../src/simulation/run.ts'
import { type Block, first, option, playOptions, read, single, unit, weibull, world } from '../worlds.ts'
import { BATCH, drawn, LIFE, playingOnce, priced, roof } from './sharpened.ts'

const DRAWS = 8000

/** Draws of a world, played once for the tests that look at them. */
const played = new Map<Block, ReturnType<typeof drawn>>()
function sharpDraws(blocks: Block): ReturnType<typeof drawn> {
  const draws = played.get(blocks) ?? drawn(blocks, DRAWS, 5)
  played.set(blocks, draws)
  return draws
}

/** Mean of each control of chance over its error; without those about too few failures, which are not used. */
async function zScores(blocks: Block): Promise<number[]> {
  const { run, layout } = await sharpDraws(blocks)
  if (layout.controls === null) throw new Error('no controls')
  const { stretches, models } = layout.controls
  const scenario = read(blocks)
  const { parameters } = planOf(prepare(scenario, 5), 0).at(middleSet(scenario.unknowns.length))
  const failures = comparedFailures(parameters.units, stretches)
  return Array.from({ length: failures.length + models }, (_, i) => {
    if (DRAWS * (failures[i] ?? DRAWS) < LEAST_FAILURES) return 0
    const moments = momentsOf(run.setSums(layout.firstControl + i))
    return moments.squares === 0 ? 0 : moments.mean / standardErrorOf(moments)
  })
}

const DELAY = { median: 20, p90: 90 }

const WORLDS: Readonly<Record<string, Block>> = {
  'a bad batch, units that wait for a visit, a gateway': world([roof({})]),
  'a bad batch among aged units': world([single({ age_years: 6, failure: { ...LIFE, bad_batch: BATCH } })]),
  'aged units of which none has failed so far': world([
    single({ age_years: 8, failure: { ...LIFE, bad_batch: BATCH, none_failed_so_far: true } }),
  ]),
  'repairs in place of replacements': world([
    single({
      failure: { modes: [{ susceptible: '40%', ...weibullMode(0.7, 3) }, weibullMode(2, 9)], bad_batch: BATCH },
      restore: { repair: { renews: '60%', parts: 300, labour: 100, at_most: 2 } },
    }),
  ]),
  'planned replacements': world([single({ failure: weibull(2, 9), replace_at_age_years: 8 })]),
  'repairs and planned replacements of aged units': world([
    single({
      age_years: 3,
      failure: weibull(2, 9, { bad_batch: BATCH }),
      replace_at_age_years: 12,
      restore: { repair: { renews: 0, parts: 300, labour: 100 } },
    }),
  ]),
  'delays that vary': world([
    single({
      count: 3,
      failure: weibull(1.5, 5),
      downtime: { detect_days: DELAY, respond_days: DELAY, repair_days: 9 },
    }),
  ]),
  'steep lives, whose failures come in one season, that a batch shortens': world([
    single({ count: 3, failure: weibull(40, 6.3, { bad_batch: BATCH }) }),
  ]),
  'steep lives with repairs': world([
    single({
      failure: weibull(40, 4.2),
      restore: { repair: { renews: '60%', parts: 300, labour: 100, at_most: 1 } },
    }),
  ]),
  'units that wait and are seen by a gateway': world([
    option(
      'Roof',
      'panel-level',
      [
        unit('panel-level-unit', { count: 6, failure: weibull(1.4, 9), downtime: { detect_days: DELAY } }),
        unit('gateway', { failure: weibull(1.2, 3), downtime: { detect_days: DELAY, respond_days: DELAY } }),
      ],
      { visit_policy: { wait_for_units: 2, wait_at_most_days: 300 } },
    ),
  ]),
  'a horizon that ends within a stretch': world([single({ failure: weibull(2, 5) })], { horizon_years: 13 }),
}

function weibullMode(shape: number, life: number): Block {
  return { cause: `mode ${shape}`, shape, characteristic_life_years: life }
}

describe('X3: the mean of every control is 0', () => {
  test.each(Object.entries(WORLDS))('%s', async (_, blocks) => {
    const scores = await zScores(blocks)
    expect(scores.some(z => z !== 0)).toBe(true)
    // eleven worlds of at most 50 controls: one in three hundred runs fails by chance
    for (const z of scores) expect(Math.abs(z)).toBeLessThan(4.5)
  })

  test('and would not be, were the units that a batch hit counted as the others', () => {
    const prepared = prepare(read(first(Object.values(WORLDS).slice(1))), 3)
    const { parameters } = planOf(prepared, 0).at(middleSet(prepared.scenario.unknowns.length))
    const [spared, struck] = [false, true].map(hit => {
      const expected = new Float64Array(4)
      expectedFirst(first(parameters.units), { horizonYears: 20, years: 5, count: 4, finely: false }, hit, expected, 0)
      return expected
    })
    expect(struck?.[0]).toBeGreaterThan(1.2 * (spared?.[0] ?? 0))
  })
})

describe('X3: sharpened means', () => {
  test('are those of the renewal equation, with a third of the plain error', async () => {
    const blocks = world([single({ failure: weibull(2, 9) })])
    const { options } = await playOptions(blocks, { draws: 4000, seed: 2 })
    const { costs, costStandardErrors, failures } = first(options)
    const plain = failures.standardError * 1000
    expect(Math.abs(costs.parts - 1000 * (failures.exactMean ?? Number.NaN))).toBeLessThan(
      4.5 * costStandardErrors.parts,
    )
    expect(costStandardErrors.parts).toBeLessThan(plain / 3)
    expect(costStandardErrors.parts).toBeGreaterThan(0)
  })

  test.each(Object.entries(WORLDS))('agree with the plain means: %s', async (_, blocks) => {
    const [sharp, plain] = [await sharpDraws(blocks), await drawn(blocks, 8000, 5, false)]
    for (const figure of ['lifetimeCost', 'parts', 'labour', 'visits', 'outageEnergy', 'lostKwh', 'nVisits'] as const) {
      const [one, other] = [sharp, plain].map(({ run }) => run.estimate(run.layout.of(figure)))
      const error = Math.hypot(one?.standardError ?? 0, other?.standardError ?? 0)
      expect(Math.abs((one?.mean ?? 0) - (other?.mean ?? 0)), figure).toBeLessThan(4 * error + 1e-9)
    }
  })

  test('still add: cost lines, years, months; what never varies keeps its value without error', async () => {
    const results = await playOptions(world([roof({ yearly_cost: 40 })]), { draws: 4000 })
    const { costs, costStandardErrors, lifetimeCost, energy, cashByYear, outOfPocket } = first(results.options)
    const sum = Object.values(costs).reduce((total, line) => total + line, 0)
    expect(sum).toBeCloseTo(lifetimeCost.mean, 6)
    expect(energy.deliveredByMonthKwh.reduce((total, kwh) => total + kwh, 0)).toBeCloseTo(energy.deliveredKwh, 6)
    // nothing is discounted
    expect(cashByYear.mean.reduce((total, cash) => total + cash, 0)).toBeCloseTo(outOfPocket.mean, 6)
    expect(costs.yearly).toBeCloseTo(20 * 40, 9)
    expect(costStandardErrors.yearly).toBe(0)
  })

  test('need a fifth of the draws or less for the same error of the mean', async () => {
    const blocks = world([single({ failure: weibull(2.5, 14), warranty: { years: 5, labour_years: 2 } })], {
      horizon_years: 25,
      discount_rate: 0.03,
    })
    const [sharp, plain] = [await drawn(blocks, 8000, 5), await drawn(blocks, 8000, 5, false)]
    const error = ({ run }: { readonly run: OptionRun }): number => run.standardError(run.layout.of('lifetimeCost'))
    expect((error(plain) / error(sharp)) ** 2).toBeGreaterThan(5)
  })

  test('leave counts of failures, percentiles and shares of variance as they are', async () => {
    const blocks = WORLDS['a bad batch, units that wait for a visit, a gateway'] ?? {}
    const [sharp, plain] = [await drawn(blocks, 4000, 5), await drawn(blocks, 4000, 5, false)]
    expect(sharp.sharp).not.toBeNull()
    expect(sharp.merged.lifetimeCost).toEqual(plain.merged.lifetimeCost)
    for (const figure of ['failures', 'stopEnergy'] as const) {
      const place = sharp.layout.of(figure)
      expect(sharp.run.mean(place)).toBeCloseTo(plain.run.mean(place), 9)
    }
  })

  test('are the same with a batch so rare that it strikes nothing', async () => {
    const withBatch = (chance: number): Block =>
      world([
        single({
          count: 2,
          failure: weibull(2, 9, { bad_batch: { chance, affects: 0.5, life_times: 0.4 } }),
        }),
      ])
    const never = await drawn(withBatch(0), 4000, 5)
    for (const chance of [1e-5, 1e-6, 1.37e-7]) {
      const { sharp } = await drawn(withBatch(chance), 4000, 5)
      expect(sharp?.weights).toEqual(never.sharp?.weights)
    }
  })

  test('are not tried under 4,000 draws', async () => {
    expect((await drawn(WORLDS['planned replacements'] ?? {}, 3980, 1)).sharp).toBeNull()
  })
})

describe('X3: draws by error', () => {
  const until = { precision: 0.001, least: 4000, most: 20_000, every: 1000 }
  const drawnUntil = async (blocks: Block, seed = 1): Promise<{ draws: number; reached: number; before: number }> => {
    const prepared = prepare(read(blocks), seed)
    const sets = parameterSetsOf(prepared.scenario, seed, 'random')
    const run = playingOnce(localRunner([prepared]))
    const found = await drawUntil(prepared, sets, until, run, () => {})
    const errorAt = async (draws: number): Promise<number> => {
      const fixed = { ...until, precision: 1e-12, most: draws }
      const { options } = await drawUntil(prepared, sets, fixed, run, () => {})
      const costs = options.map(one => {
        const of = new OptionRun(one.merged, one.layout, !sets.vary, one.sharp)
        return {
          lifetimeCost: one.merged.lifetimeCost,
          sharp: of.sharpFigure(of.layout.of('lifetimeCost')),
          earnings: 0,
        }
      })
      return errorShare(costs, sets.drawsPerSet(draws)) ?? Number.NaN
    }
    return { draws: found.draws, reached: await errorAt(found.draws), before: await errorAt(found.draws - 1000) }
  }

  test('stop at the first thousand at which every error is under a thousandth of the scale', async () => {
    const { draws, reached, before } = await drawnUntil(priced())
    expect(draws).toBeGreaterThan(4000)
    expect(draws).toBeLessThan(20_000)
    expect(reached).toBeLessThan(0.001)
    expect(before).toBeGreaterThanOrEqual(0.001)
  })

  test('are 4,000 at least, and 20,000 at most', async () => {
    const certain = world([single({ failure: weibull(2, 200) })])
    const prepared = prepare(read(certain), 1)
    const sets = parameterSetsOf(prepared.scenario, 1, 'random')
    expect((await drawUntil(prepared, sets, until, localRunner([prepared]), () => {})).draws).toBe(4000)
    const never = { ...until, precision: 1e-9 }
    expect((await drawUntil(prepared, sets, never, localRunner([prepared]), () => {})).draws).toBe(20_000)
  })
})
