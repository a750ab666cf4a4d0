import fc from 'fast-check'
import { expect, test } from 'vitest'
import { Priced, priceLifetimes } from '../../src/ledger/price-lifetimes.ts'
import { OtherCover } from '../../src/ledger/sweep/other-cover.ts'
import type { CoverTerms, OptionTerms } from '../../src/ledger/terms.ts'
import { middleSet } from '../../src/simulation/parameter-sets.ts'
import { OptionPlayer } from '../../src/simulation/play-option.ts'
import { planOf, prepare } from '../../src/simulation/run.ts'
import { type Block, option, read, unit, weibull, world } from '../worlds.ts'

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
  presentYears: fc.constantFrom(0, 5),
  count: fc.constantFrom(1, 3),
  lifeYears: fc.constantFrom(2, 5),
  care: fc.constantFrom<Block>(
    {},
    { replace_at_age_years: 3 },
    { restore: { repair: { renews: 0.5, parts: 300, labour: 100, at_most: 1 } } },
  ),
  claimDays: fc.constantFrom(0, 30),
  makerExits: fc.constantFrom(0, 0.15),
  installerExits: fc.constantFrom(0, 0.15),
  policy: fc.boolean(),
  other: fc.record({
    years: fc.constantFrom(0, 7),
    labour_years: fc.constantFrom(0, 5),
    replacement_cover: fc.constantFrom('renewed', 'new-if-bought'),
    visits_covered: fc.boolean(),
  }),
  seed: fc.integer({ min: 1, max: 1000 }),
})

function withCover(terms: OptionTerms, cover: CoverTerms): OptionTerms {
  return { ...terms, units: terms.units.map((one, place) => (place === 0 ? { ...one, cover } : one)) }
}

test('V1, V3, W6: other cover costs what the draw costs when it is priced anew under it, term by term or at once', () => {
  let changes = 0
  // used again for every world: rows of a longer history stay behind in their memory
  const priced = new Priced(HORIZON)
  const walked = new OtherCover(0, HORIZON)
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
        ...given.care,
      })
      const other = unit('gateway', { failure: weibull(1, 4), needs_visit: true, warranty: given.other })
      const quoted = option('One', 'string', [inverter, other], {
        warranty_provider: { exit_rate_per_year: given.makerExits },
        labour_provider: { exit_rate_per_year: given.installerExits },
        ...(given.policy ? { visit_policy: { wait_for_units: 2, wait_at_most_days: 200 } } : {}),
      })
      const blocks = world([quoted], { horizon_years: HORIZON, discount_rate: 0.03, visit: { labour_growth: 0.02 } })
      const prepared = prepare(read(blocks), given.seed)
      const plan = planOf(prepared, 0)
      const set = plan.at(middleSet(prepared.scenario.unknowns.length))
      const own = set.terms.units[0]?.cover
      if (own === undefined) throw new Error('no cover')
      const present = {
        ...own,
        ...stated,
        years: given.presentYears,
        labourYears: Math.min(stated.labourYears, given.presentYears),
      }
      const at = (years: number): CoverTerms => ({
        ...present,
        years,
        labourYears: Math.min(stated.labourYears, years),
      })
      const player = new OptionPlayer(plan)
      const { history } = player
      player.clear()
      for (let draw = 0; draw < DRAWS; draw++) {
        player.strike(draw, set)
        player.take(draw)
      }
      player.play(set)
      const tables = plan.tablesFor(set.terms)
      const terms = withCover(set.terms, present)
      priceLifetimes(history, terms, tables, priced)
      const covers = Array.from({ length: HORIZON + 1 }, (_, years) => at(years))
      const offered = { ...present, years: 9.5, labourYears: 4 }
      /** What every lifetime pays and loses under each cover, priced anew. */
      const anew = (covers: readonly CoverTerms[]): readonly { paid: Float64Array; lost: Float64Array }[] =>
        covers.map(cover => {
          const under = new Priced(HORIZON)
          priceLifetimes(history, withCover(set.terms, cover), tables, under)
          const [paid, lost] = [new Float64Array(DRAWS), new Float64Array(DRAWS)]
          under.accounts.sumRepairs(DRAWS, paid)
          under.accounts.sumOutages(DRAWS, lost)
          return { paid, lost }
        })
      const now = { paid: new Float64Array(DRAWS), lost: new Float64Array(DRAWS) }
      /** What the owner pays more from term to term, of the lifetimes in which no provider was missed (V3). */
      const unmissed = new Map<number, Float64Array>()
      const check = (stays: boolean): void => {
        const expected = anew(covers)
        const [before, after] = anew([present, offered]).map(one =>
          one.paid.map((paid, i) => paid + (one.lost[i] ?? 0)),
        )
        for (let lane = 0; lane < DRAWS; lane++) {
          if (!walked.goTo(lane)) continue
          walked.walk(covers)
          if (!stays && !walked.providerMissed) unmissed.set(lane, walked.steps.paid.slice())
          if (stays) {
            unmissed.get(lane)?.forEach((paid, term) => {
              expect(walked.steps.paid[term]).toBeCloseTo(paid, 6)
            })
          }
          let paid = now.paid[lane] ?? 0
          let lost = now.lost[lane] ?? 0
          expected.forEach((one, term) => {
            paid += walked.steps.paid[term] ?? 0
            lost += walked.steps.lost[term] ?? 0
            expect(paid).toBeCloseTo(one.paid[lane] ?? 0, 6)
            if (!stays) expect(lost).toBeCloseTo(one.lost[lane] ?? 0, 7)
          })
          for (let term = walked.steps.next(1); term >= 0; term = walked.steps.next(term + 1)) changes++
          expect(walked.worth(present, offered)).toBeCloseTo((before?.[lane] ?? 0) - (after?.[lane] ?? 0), 6)
        }
      }
      priced.accounts.sumRepairs(DRAWS, now.paid)
      priced.accounts.sumOutages(DRAWS, now.lost)
      walked.begin({ history, terms, tables, priced })
      check(false)
      // as if no provider ever left: what the others save is added, and only the losses of this component’s claims change
      const saved = new Float64Array(DRAWS).fill(9)
      walked.stay(true)
      walked.savedByStaying(saved)
      saved.forEach((less, lane) => {
        now.paid[lane] = (now.paid[lane] ?? 0) - less
      })
      history.partsExits.begin(history.n)
      history.labourExits.begin(history.n)
      check(true)
    }),
    { seed: 20_270_301, numRuns: 60 },
  )
  expect(changes).toBeGreaterThan(1000)
})
