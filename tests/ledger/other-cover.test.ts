import fc from 'fast-check'
import { expect, test } from 'vitest'
import { allOf, type Stretch } from '../../src/history/lifetimes.ts'
import { Accounts } from '../../src/ledger/accounts.ts'
import { Claims } from '../../src/ledger/claims.ts'
import { OtherCover } from '../../src/ledger/other-cover.ts'
import { priceLifetimes } from '../../src/ledger/price-lifetimes.ts'
import { RowBills } from '../../src/ledger/repairs.ts'
import type { CoverTerms, OptionTerms } from '../../src/ledger/terms.ts'
import { middleSet } from '../../src/simulation/parameter-sets.ts'
import { OptionPlayer } from '../../src/simulation/play-option.ts'
import { planOf, prepare } from '../../src/simulation/run.ts'
import { option, read, unit, weibull, world } from '../worlds.ts'

const HORIZON = 12
const DRAWS = 40

/** Terms of cover, of every kind that moves the end of a clock. */
const covers = fc.record({
  replacementCover: fc.constantFrom('remaining' as const, 'renewed' as const, 'new-if-bought' as const),
  replacementMinYears: fc.constantFrom(0, 1.5, 3),
  labourYears: fc.integer({ min: 0, max: HORIZON }),
  labourShare: fc.constantFrom(0, 0.4, 1),
  partsShare: fc.constantFrom(0.5, 1),
  claimSuccess: fc.constantFrom(0.3, 0.8, 1),
  visitsCovered: fc.boolean(),
})

const worlds = fc.record({
  ageYears: fc.constantFrom(0, 2.3),
  count: fc.constantFrom(1, 3),
  lifeYears: fc.constantFrom(2, 5),
  claimDays: fc.constantFrom(0, 30),
  exitRate: fc.constantFrom(0, 0.15),
  policy: fc.boolean(),
  seed: fc.integer({ min: 1, max: 1000 }),
})

function withCover(terms: OptionTerms, cover: CoverTerms): OptionTerms {
  return { ...terms, units: terms.units.map((one, place) => (place === 0 ? { ...one, cover } : one)) }
}

test('V1: walking from term to term prices every term as if the draw were priced anew under it', () => {
  let changes = 0
  fc.assert(
    fc.property(covers, worlds, (stated, given) => {
      const inverter = unit('string-inverter', {
        count: given.count,
        age_years: given.ageYears,
        failure: weibull(1.3, given.lifeYears),
        downtime: {
          detect_days: { median: 20, p90: 60 },
          respond_days: 30,
          repair_days: 2,
          claim_days: given.claimDays,
        },
        on_roof: true,
      })
      const other = unit('gateway', { failure: weibull(1, 4), needs_visit: true })
      const quoted = option('One', 'string', [inverter, other], {
        warranty_provider: { exit_rate_per_year: given.exitRate },
        labour_provider: { exit_rate_per_year: given.exitRate },
        ...(given.policy ? { visit_policy: { wait_for_units: 2, wait_at_most_days: 200 } } : {}),
      })
      const prepared = prepare(read(world([quoted], { horizon_years: HORIZON, discount_rate: 0.03 })), given.seed)
      const plan = planOf(prepared, 0)
      const set = plan.at(middleSet(prepared.scenario.unknowns.length))
      const present = set.terms.units[0]?.cover
      if (present === undefined) throw new Error('no cover')
      const at = (years: number): CoverTerms => ({
        ...present,
        ...stated,
        years,
        labourYears: Math.min(stated.labourYears, years),
      })
      const player = new OptionPlayer(plan)
      const accounts = new Accounts(HORIZON)
      const anew = new Accounts(HORIZON)
      const claims = new Claims()
      const bills = new RowBills()
      const walked = new OtherCover(0, plan.supply, HORIZON)
      const check = (lifetime: Stretch, term: number): void => {
        priceLifetimes(lifetime, withCover(set.terms, at(term)), plan.supply, anew)
        expect(walked.paid).toBeCloseTo(anew.repairsOf(0), 6)
        expect(walked.lost).toBeCloseTo(anew.lostOf(0), 9)
      }
      const walk = (lifetime: Stretch): void => {
        walked.price(at(0))
        check(lifetime, 0)
        for (let term = 1; term <= HORIZON; term++) {
          // between changes nothing is asked: the figures of the last change must still hold
          if (term > walked.holdsUntil) {
            walked.prolong(at(term))
            changes++
          }
          check(lifetime, term)
        }
      }
      // several lifetimes in one table, as the run has them: each is walked by itself
      for (let draw = 0; draw < DRAWS; draw++) player.play(draw, set)
      const { lifetimes } = player
      const stretch = allOf(lifetimes)
      priceLifetimes(stretch, set.terms, plan.supply, accounts, null, claims, bills)
      const priced = { stretch, terms: set.terms, accounts, claims, bills }
      for (let lifetime = 0; lifetime < DRAWS; lifetime++) {
        if (!walked.begin(priced, lifetime)) continue
        const alone = { lifetimes, first: lifetime, end: lifetime + 1 }
        walk(alone)
        if (!walked.providerMissed) continue
        walked.ifProvidersStay()
        const { partsExits, labourExits } = lifetimes.chanceOf(lifetime)
        partsExits.length = 0
        labourExits.length = 0
        walk(alone)
      }
    }),
    { seed: 20_270_301, numRuns: 60 },
  )
  expect(changes).toBeGreaterThan(1000)
})
