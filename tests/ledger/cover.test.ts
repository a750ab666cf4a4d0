import { describe, expect, test } from 'vitest'
import { ProviderExits } from '../../src/history/provider-exits.ts'
import { providerExists, replacementEnd } from '../../src/ledger/cover.ts'
import type { CoverTerms } from '../../src/ledger/terms.ts'
import {
  type Block,
  days,
  failsAt,
  first,
  livesOf,
  meanOf,
  option,
  playOptions,
  single,
  unit,
  weibull,
  world,
  zOf,
} from '../worlds.ts'

const TERMS: CoverTerms = {
  years: 10,
  labourYears: 4,
  partsShare: 1,
  labourShare: 1,
  claimSuccess: 1,
  replacementCover: 'remaining',
  replacementMinYears: 0,
  visitsCovered: false,
}
/** End of the parts clock after a replacement fitted at 7, of a unit whose cover runs to 10. */
const endAt = (cover: Partial<CoverTerms>, bought: boolean, fittedAt = 7) =>
  replacementEnd({ ...TERMS, ...cover }, 10, 10, 10, fittedAt, bought)

/** What the owner pays for parts in the mean of 20 lifetimes; a unit costs 1000. */
async function unitsPaid(over: Block, optionOver: Block = {}, horizon = 20): Promise<number> {
  const results = await playOptions(world([single(over, optionOver)], { horizon_years: horizon }))
  return first(results.options).costs.parts / 1000
}

describe('W1, W2: when a failure is covered', () => {
  test('W1: the claim is made at detection: cover must still run then', async () => {
    const at = (detect: number) =>
      unitsPaid({ failure: failsAt(4), downtime: { detect_days: detect }, warranty: { years: 4.5 } }, {}, 6)
    expect(await at(170)).toBe(0)
    expect(await at(200)).toBe(1)
  })

  test('W2: cover of original units ends at the term less their age; the two clocks run apart', async () => {
    const one = single({ age_years: 6, failure: failsAt(8), warranty: { years: 9, labour_years: 7 } })
    const { costs } = first((await playOptions(world([one], { horizon_years: 4 }))).options)
    expect(costs.parts).toBe(0)
    expect(costs.labour).toBeCloseTo(200, 9)
    expect(await unitsPaid({ age_years: 6, failure: failsAt(8), warranty: { years: 7 } }, {}, 4)).toBe(1)
  })
})

describe('W3: cover of replacements', () => {
  test('remaining: they keep the original end, or the least cover if later, for units supplied under cover', () => {
    expect(endAt({}, false)).toBe(10)
    expect(endAt({ replacementMinYears: 5 }, false)).toBe(12)
    expect(endAt({ replacementMinYears: 2 }, false)).toBe(10)
    expect(endAt({ replacementMinYears: 5 }, true)).toBe(10)
    // bought after the end: no cover
    expect(endAt({}, true, 13)).toBeLessThan(13)
  })

  test('remaining: a clock without any term gains none by the least cover; a clock of one year does', () => {
    const cover = { ...TERMS, replacementMinYears: 5 }
    expect(replacementEnd(cover, 0, 0, 0, 7, false)).toBe(0)
    expect(replacementEnd(cover, 1, 1, 1, 7, false)).toBe(12)
  })

  test('renewed: every replacement gets the full term anew', () => {
    expect(endAt({ replacementCover: 'renewed' }, false)).toBe(17)
    expect(endAt({ replacementCover: 'renewed' }, true)).toBe(17)
  })

  test('new-if-bought: a unit the owner paid for brings a new term, one replaced under cover keeps the running end', () => {
    expect(endAt({ replacementCover: 'new-if-bought' }, true)).toBe(17)
    expect(endAt({ replacementCover: 'new-if-bought' }, false)).toBe(10)
  })

  test('by hand: a unit that fails every 4 years with a term of 5', async () => {
    const paid = (cover: string) =>
      unitsPaid({ failure: failsAt(4), warranty: { years: 5, replacement_cover: cover } }, {}, 18)
    // failures at 4, 8, 12, 16
    expect(await paid('remaining')).toBe(3)
    expect(await paid('renewed')).toBe(0)
    // 4 covered; 8 bought with cover to 13; 12 covered; 16 bought
    expect(await paid('new-if-bought')).toBe(2)
  })

  test('replaced as planned counts as paid for: it brings a new term', async () => {
    const one = { failure: failsAt(7), replace_at_age_years: 6, warranty: { years: 4 } }
    // swaps at 6, 12, 18: all paid, though the term of each would still cover nothing planned
    expect(await unitsPaid(one)).toBe(3)
  })

  test('both clocks: labour cover is renewed with the unit', async () => {
    const one = single({ failure: failsAt(4), warranty: { years: 5, labour_years: 4.5, replacement_cover: 'renewed' } })
    const { costs } = first((await playOptions(world([one], { horizon_years: 18 }))).options)
    expect(costs.labour).toBe(0)
  })

  test('both clocks: under new-if-bought a granted claim keeps the running end of labour cover too', async () => {
    const one = single({ failure: failsAt(4), warranty: { years: 5, labour_years: 5 } })
    const { costs } = first((await playOptions(world([one], { horizon_years: 18 }))).options)
    // 4 covered; 8 bought with labour cover to 13; 12 covered; 16 bought
    expect(costs.labour).toBeCloseTo(400, 9)
  })
})

describe('W4, W5: claims and providers', () => {
  test('W4: a claim succeeds with claim_success', async () => {
    const one = single({
      failure: failsAt(4),
      warranty: { years: 100, replacement_cover: 'renewed', claim_success: 0.7 },
    })
    const results = await playOptions(world([one], { horizon_years: 18 }), { draws: 2000 })
    // 4 failures a lifetime, each paid with 30 %
    const { costs, costStandardErrors } = first(results.options)
    expect(Math.abs(costs.parts - 1200) / costStandardErrors.parts).toBeLessThan(4)
  })

  test('W5: a unit’s provider is gone at the first exit after its fitting', () => {
    const exists = (moments: readonly number[], fittedAt: number, at: number): boolean => {
      const exits = new ProviderExits()
      exits.begin(1)
      if (moments.length > 0) exits.open(0)
      for (const moment of moments) exits.add(moment)
      return providerExists(exits, 0, fittedAt, at)
    }
    expect(exists([3, 8], 0, 2.9)).toBe(true)
    expect(exists([3, 8], 0, 3.1)).toBe(false)
    expect(exists([3, 8], 0, 20)).toBe(false)
    // fitted after the first exit: another provider covers it
    expect(exists([3, 8], 3.5, 7.9)).toBe(true)
    expect(exists([3, 8], 3.5, 8.1)).toBe(false)
    expect(exists([], 0, 50)).toBe(true)
  })

  test('W5: exits are a Poisson process, one for all that name the provider', () => {
    const named = (name: string) => single({}, { warranty_provider: { name: 'maker', exit_rate_per_year: 0.15 } }, name)
    const blocks = world([named('A'), named('B')])
    const [a, b] = [livesOf(blocks, 3000, 0), livesOf(blocks, 3000, 1)]
    expect(a.map(life => life.partsExits)).toEqual(b.map(life => life.partsExits))
    const counts = a.map(life => life.partsExits.filter(at => at <= 20).length)
    expect(Math.abs(zOf(counts, 3))).toBeLessThan(4)
    const variance = meanOf(counts.map(count => (count - 3) ** 2))
    expect(Math.abs(variance - 3)).toBeLessThan(0.35)
  })

  test('W5: parts cover follows the maker, labour cover the installer', async () => {
    const covered = { failure: failsAt(4), warranty: { years: 100, labour_years: 100 } }
    const gone = { exit_rate_per_year: 0.99 }
    const noMaker = first(
      (await playOptions(world([single(covered, { warranty_provider: gone })], { horizon_years: 6 }), { draws: 200 }))
        .options,
    )
    expect(noMaker.costs.labour).toBe(0)
    expect(noMaker.costs.parts).toBeGreaterThan(900)
    const noInstaller = first(
      (await playOptions(world([single(covered, { labour_provider: gone })], { horizon_years: 6 }), { draws: 200 }))
        .options,
    )
    expect(noInstaller.costs.parts).toBe(0)
    expect(noInstaller.costs.labour).toBeGreaterThan(180)
  })
})

describe('O1: claim days', () => {
  test('a claimed failure, granted or refused, loses claim_days more of energy; dates of what follows stay', async () => {
    const claim = (success: number, years: number): Block =>
      single({
        failure: failsAt(5.5),
        downtime: { repair_days: 3, claim_days: 7 },
        warranty: { years, claim_success: success },
      })
    const lost = async (blocks: Block) =>
      first((await playOptions(world([blocks], { horizon_years: 8 }))).options).energy.outageLossKwh.mean
    expect(await lost(claim(1, 10))).toBeCloseTo(10, 9)
    expect(await lost(claim(0, 10))).toBeCloseTo(10, 9)
    expect(await lost(claim(1, 0))).toBeCloseTo(3, 9)
    expect(livesOf(world([claim(1, 10)]), 5).map(l => l.rows)).toEqual(
      livesOf(world([claim(1, 0)]), 5).map(l => l.rows),
    )
  })

  test('windows of one slot are joined', async () => {
    // fails 2 days after each return; claim days of 10 run into the next outage
    const one = single({
      failure: failsAt(days(2)),
      downtime: { repair_days: 1, claim_days: 10 },
      warranty: { years: 100, replacement_cover: 'renewed' },
    })
    const { availability } = first((await playOptions(world([one], { horizon_years: 1 }), { draws: 20 })).options)
    expect(availability.timeBased).toBeCloseTo(days(2), 4)
    // with one that never fails: a slot that is down is down once
    const beside = option('Two', 'string', [...(one.components as Block[]), unit('string-inverter')])
    const two = first((await playOptions(world([beside], { horizon_years: 1 }), { draws: 20 })).options)
    expect(two.availability.timeBased).toBeCloseTo(0.5 + days(2) / 2, 4)
  })
})

describe('more cover never costs the owner more', () => {
  test.each(['remaining', 'renewed'])('%s: out of pocket falls with the term', async cover => {
    const one = single(
      {
        failure: weibull(1.7, 9),
        warranty: { years: 5, labour_years: 3, replacement_cover: cover, claim_success: 0.8 },
      },
      { warranty_provider: { exit_rate_per_year: 0.03 } },
    )
    const sweep = first((await playOptions(world([one], { discount_rate: 0.03 }), { draws: 400 })).warrantySweep)
    expect(sweep.outOfPocketMean).toHaveLength(21)
    sweep.outOfPocketMean.slice(1).forEach((paid, i) => {
      expect(paid).toBeLessThanOrEqual((sweep.outOfPocketMean[i] ?? 0) + 1e-9)
    })
  })
})
