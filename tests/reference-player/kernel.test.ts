import fc from 'fast-check'
import { expect, test } from 'vitest'
import { CLAIM, NUMBERS, PLANNED, REPAIRED } from '../../src/history/rows.ts'
import { Priced, priceLifetimes } from '../../src/ledger/price-lifetimes.ts'
import { ResidualValue } from '../../src/ledger/residual-value.ts'
import type { OptionTerms } from '../../src/ledger/terms.ts'
import type { OptionPlan, OptionSet } from '../../src/simulation/option-plan.ts'
import { middleSet } from '../../src/simulation/parameter-sets.ts'
import { OptionPlayer } from '../../src/simulation/play-option.ts'
import { planOf, prepare } from '../../src/simulation/run.ts'
import { SumLayout } from '../../src/simulation/sums/sum-layout.ts'
import { TermSweep } from '../../src/simulation/term-sweep.ts'
import { type Block, read } from '../worlds.ts'
import { type ReferenceDraw, referenceDraw, repriced } from './play.ts'
import { scenarios } from './scenarios.ts'

const DRAWS = 12
const TOLERANCE = 1e-6
/** `REFERENCE_RUNS=2000 REFERENCE_SEED=7 npm test -- tests/reference-player` tries more. */
const RUNS = Number(process.env.REFERENCE_RUNS ?? 25)
const SEED = Number(process.env.REFERENCE_SEED ?? 11)

const COLUMNS = [
  'parts',
  'surcharges',
  'labour',
  'visits',
  'coveredParts',
  'coveredLabour',
  'coveredVisits',
  'nVisits',
  'nVisitsInAll',
  'outageEnergy',
  'batteryOutage',
  'batteryEarnings',
  'batteryDays',
  'residual',
  'lostKwh',
  'lostKwhDiscounted',
  'downYears',
  'backupDownYears',
] as const

/** An option made ready, its draws by the reference, and the same draws by the program. */
interface Both {
  readonly plan: OptionPlan
  readonly set: OptionSet
  readonly player: OptionPlayer
  readonly priced: Priced
  readonly reference: readonly ReferenceDraw[]
}

function playBoth(blocks: Block, seed: number): Both {
  const scenario = read(blocks)
  const plan = planOf(prepare(scenario, seed), 0)
  const set = plan.at(middleSet(scenario.unknowns.length), true)
  const player = new OptionPlayer(plan)
  player.clear()
  for (let draw = 0; draw < DRAWS; draw++) {
    player.strike(draw, set)
    player.take(draw)
  }
  player.play(set)
  const priced = new Priced(scenario.horizonYears)
  priceLifetimes(player.history, set.terms, plan.tablesFor(set.terms), priced)
  new ResidualValue(set.terms, true).of(player.history, priced.accounts.residual)
  const reference = Array.from({ length: DRAWS }, (_, draw) => referenceDraw(plan, set, draw))
  return { plan, set, player, priced, reference }
}

function same(what: string, ours: number, theirs: number, scale = Math.abs(theirs)): void {
  if (!(Math.abs(ours - theirs) <= TOLERANCE * Math.max(1, scale))) throw new Error(`${what}: ${ours}, not ${theirs}`)
}

function holds(check: (both: Both) => void): void {
  fc.assert(
    fc.property(scenarios, fc.integer({ min: 1, max: 1e6 }), (blocks, seed) => {
      check(playBoth(blocks, seed))
    }),
    { numRuns: RUNS, seed: SEED, endOnFailure: true },
  )
}

test('every failure of every draw is that of the reference', () => {
  let failures = 0
  holds(({ player, reference, set }) => {
    const { horizonYears } = set.parameters
    reference.forEach((draw, lane) => {
      player.history.rows.forEach((rows, place) => {
        const own = draw.failures.filter(({ unit }) => unit.place === place)
        const ours = Array.from({ length: rows.n }, (_, row) => row).filter(row => rows.lane[row] === lane)
        expect(ours.length).toBe(own.length)
        ours.sort((a, b) => (rows.failedAt[a] ?? 0) - (rows.failedAt[b] ?? 0))
        own.sort((a, b) => a.failedAt - b.failedAt)
        own.forEach((failure, i) => {
          const row = ours[i] ?? -1
          const at = (name: string, mine: number | undefined, its: number): void => {
            same(`${name} of draw ${lane}`, Math.min(mine ?? Number.NaN, horizonYears), Math.min(its, horizonYears))
          }
          at('failure', rows.failedAt[row], failure.failedAt)
          at('detection', rows.detectedAt[row], failure.detectedAt)
          at('return', rows.returnedAt[row], failure.returnedAt)
          at('fitting', rows.fittedAt[row], failure.fittedAt)
          expect(rows.numbers[NUMBERS * row + CLAIM]).toBe(failure.claim)
          expect(rows.action[row] === PLANNED).toBe(failure.planned)
          expect(rows.action[row] === REPAIRED).toBe(failure.repaired)
          expect(rows.takesString[row] === 1).toBe(failure.takesStringDown)
          if (failure.takesStringDown) expect(rows.string[row]).toBe(failure.string)
          failures++
        })
      })
    })
  })
  expect(failures).toBeGreaterThan(20 * RUNS)
}, 600_000)

test('every column of every draw is that of the reference', () => {
  holds(({ priced: { accounts }, reference, set }) => {
    const years = set.terms.horizonYears
    const presentByYear = new Float64Array(years)
    const lostByMonth = new Float64Array(12)
    reference.forEach(({ account }, lane) => {
      // with several modes the program integrates further lives too coarsely for this comparison
      const closed = set.terms.units.every(({ modes }) => modes.length === 1)
      for (const column of COLUMNS.filter(name => closed || name !== 'residual'))
        same(`${column} of draw ${lane}`, accounts[column][lane] ?? 0, account[column])
      for (let year = 0; year < years; year++) {
        const paid = ((accounts.paidYears[2 * lane + (year >> 5)] ?? 0) >>> (year & 31)) & 1
        same('cash', paid === 1 ? (accounts.cash[lane * years + year] ?? 0) : 0, account.cash[year] ?? 0)
        presentByYear[year] = (presentByYear[year] ?? 0) + (account.presentByYear[year] ?? 0)
      }
      account.lostByMonthKwh.forEach((kwh, month) => {
        lostByMonth[month] = (lostByMonth[month] ?? 0) + kwh
      })
    })
    presentByYear.forEach((value, year) => {
      same('present value of a year', accounts.presentByYear[year] ?? 0, value)
    })
    lostByMonth.forEach((kwh, month) => {
      same('energy lost in a month', accounts.lostByMonthKwh[month] ?? 0, kwh)
    })
  })
}, 600_000)

test('V1–V3: every term of the sweep is what the reference pays under it', () => {
  holds(({ plan, player, priced, reference, set }) => {
    const { horizonYears } = set.terms
    const layout = new SumLayout(plan.option.populations.length, horizonYears + 1, 0)
    const sweep = new TermSweep(plan.option, layout, horizonYears)
    const sums = new Float64Array(layout.length)
    const squares = new Float64Array(layout.length)
    const repairs = new Float64Array(DRAWS)
    const outages = new Float64Array(DRAWS)
    priced.accounts.sumRepairs(DRAWS, repairs)
    priced.accounts.sumOutages(DRAWS, outages)
    sweep.begin(set.terms)
    const tables = plan.tablesFor(set.terms)
    sweep.add({ history: player.history, terms: set.terms, tables, priced }, repairs, outages, 7, sums, squares)
    sweep.endSet(sums, squares)
    const first = set.terms.units[0]
    if (first === undefined) throw new Error('no unit')
    const without = reference.map(draw => costsUnder(plan, draw, set.terms, 0, false))
    for (let term = 0; term <= horizonYears; term += 1 + (term % 4)) {
      const asIs = reference.map(draw => costsUnder(plan, draw, set.terms, term, false))
      const stays = reference.map(draw => costsUnder(plan, draw, set.terms, term, true))
      const worth = asIs.map(({ paid, lost }, i) => (without[i]?.paid ?? 0) + (without[i]?.lost ?? 0) - paid - lost)
      const total = sum(asIs.map(({ paid, lost }) => paid + lost))
      same(`paid at ${term}`, sums[layout.ofSweep(term, 'paid')] ?? 0, sum(asIs.map(({ paid }) => paid + 7)))
      same(`lost at ${term}`, sums[layout.ofSweep(term, 'energy')] ?? 0, sum(asIs.map(({ lost }) => lost)))
      same(
        `paid at ${term} if all stay`,
        sums[layout.ofSweep(term, 'paidIfStays')] ?? 0,
        sum(stays.map(({ paid }) => paid + 7)),
      )
      same(`worth of ${term}`, sums[layout.ofSweep(term, 'worth')] ?? 0, sum(worth), total)
      same(`its square`, squares[layout.ofSweep(term, 'worth')] ?? 0, sum(worth.map(one => one * one)), total * total)
    }
  })
}, 600_000)

function costsUnder(
  plan: OptionPlan,
  draw: ReferenceDraw,
  terms: OptionTerms,
  years: number,
  stays: boolean,
): { paid: number; lost: number } {
  const units = terms.units.map((unit, place) =>
    place > 0
      ? unit
      : { ...unit, cover: { ...unit.cover, years, labourYears: Math.min(unit.cover.labourYears, years) } },
  )
  const account = repriced(plan, draw, { ...terms, units }, stays)
  return {
    paid: account.parts + account.labour + account.visits,
    lost: account.outageEnergy + account.batteryOutage,
  }
}

function sum(values: readonly number[]): number {
  return values.reduce((total, value) => total + value, 0)
}
