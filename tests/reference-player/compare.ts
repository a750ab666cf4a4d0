/** Compares draws of the program with those of the reference: each function throws at the first difference. */

import { CLAIM, NUMBERS, PLANNED, REPAIRED } from '../../src/history/rows.ts'
import { Priced, priceLifetimes } from '../../src/ledger/price-lifetimes.ts'
import { ResidualValue } from '../../src/ledger/residual-value.ts'
import type { OptionTerms } from '../../src/ledger/terms.ts'
import type { OptionPlan } from '../../src/simulation/option-plan.ts'
import type { OptionSet } from '../../src/simulation/option-set.ts'
import { middleSet, parameterSetsOf } from '../../src/simulation/parameter-sets.ts'
import { OptionPlayer } from '../../src/simulation/play-option.ts'
import { planOf, prepare } from '../../src/simulation/run.ts'
import { SumLayout } from '../../src/simulation/sums/sum-layout.ts'
import { TermSweep } from '../../src/simulation/term-sweep.ts'
import { type Block, read } from '../worlds.ts'
import type { Failure } from './history.ts'
import { type ReferenceDraw, referenceDraw, repriced } from './play.ts'

const DRAWS = 12
/**
 * By how much program and reference may differ, of the figure, or of 1 where it is smaller. Ages at failure come from
 * tables that hold 1e-9 (`dense-ages.ts`), and each life of a slot begins where the one before it ended; money moves with
 * its moment by its discount and growth alone.
 */
const MOMENT_OF_A_LIFE = 1e-9
const MONEY = 1e-9
/** Both ends of every outage of a lifetime are such moments. */
const TIME_DOWN = 1e-8
/**
 * Energy of a few hours has the error of its two ends: up to 2e-7 of a month in 750 random scenarios. Its value also
 * depends on a series for discount and growth within a month (`month-table.ts`).
 */
const ENERGY = 1e-6
/** The mean residual life is read from a table with an error of at most 5e-8 (`dense-residual.ts`). */
const RESIDUAL = 1e-7
const COLUMNS = {
  parts: MONEY,
  surcharges: MONEY,
  labour: MONEY,
  visits: MONEY,
  coveredParts: MONEY,
  coveredLabour: MONEY,
  coveredVisits: MONEY,
  nVisits: 0,
  nVisitsInAll: 0,
  batteryEarnings: MONEY,
  batteryDays: TIME_DOWN,
  downYears: TIME_DOWN,
  backupDownYears: TIME_DOWN,
  lostKwh: ENERGY,
  lostKwhDiscounted: ENERGY,
  outageEnergy: ENERGY,
  batteryOutage: ENERGY,
  residual: RESIDUAL,
} as const

/** An option made ready, its draws by the reference, and the same draws by the program. */
export interface Both {
  readonly plan: OptionPlan
  readonly set: OptionSet
  readonly player: OptionPlayer
  readonly priced: Priced
  readonly reference: readonly ReferenceDraw[]
}

/**
 * Plays a scenario by both.
 *
 * @param blocks - its first option is played
 * @param seed - of its chance
 */
export function playBoth(blocks: Block, seed: number): Both {
  const scenario = read(blocks)
  const plan = planOf(prepare(scenario, seed), 0)
  // a set like any other, so that models differ where their spread is not 0
  const [drawn = middleSet(scenario.unknowns.length)] = parameterSetsOf(scenario, seed, 'random').ofBlock(0, 1)
  const set = plan.at(drawn, true)
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

function same(what: string, bound: number, ours: number, theirs: number, scale = Math.abs(theirs)): void {
  if (!(Math.abs(ours - theirs) <= bound * Math.max(1, scale))) throw new Error(`${what}: ${ours}, not ${theirs}`)
}

function equal<T>(what: string, ours: T, theirs: T): void {
  if (ours !== theirs) throw new Error(`${what}: ${ours}, not ${theirs}`)
}

/**
 * Every failure of every draw is that of the reference.
 *
 * @returns how many there were
 */
export function failuresHold({ player, reference, set }: Both): number {
  let failures = 0
  const { horizonYears } = set.parameters
  reference.forEach((draw, lane) => {
    player.history.rows.forEach((rows, place) => {
      const own = draw.failures.filter(({ unit }) => unit.place === place)
      const ours = Array.from({ length: rows.n }, (_, row) => row).filter(row => rows.lane[row] === lane)
      equal('failures', ours.length, own.length)
      // by the number that each has of its own: several are due for planned replacement at one moment
      const claimOf = (row: number): number => rows.numbers[NUMBERS * row + CLAIM] ?? 0
      ours.sort((a, b) => claimOf(a) - claimOf(b))
      own.sort((a, b) => a.claim - b.claim)
      own.forEach((failure, i) => {
        const row = ours[i] ?? -1
        const at = (name: string, mine: number | undefined, its: number): void => {
          same(
            `${name} of draw ${lane}`,
            MOMENT_OF_A_LIFE * livesOf(failure),
            Math.min(mine ?? Number.NaN, horizonYears),
            Math.min(its, horizonYears),
          )
        }
        at('failure', rows.failedAt[row], failure.failedAt)
        at('detection', rows.detectedAt[row], failure.detectedAt)
        at('return', rows.returnedAt[row], failure.returnedAt)
        at('fitting', rows.fittedAt[row], failure.fittedAt)
        equal('number of a claim', claimOf(row), failure.claim)
        equal('planned', rows.action[row] === PLANNED, failure.planned)
        equal('repaired', rows.action[row] === REPAIRED, failure.repaired)
        equal('string down', rows.takesString[row] === 1, failure.takesStringDown)
        if (failure.takesStringDown) equal('string', rows.string[row], failure.string)
        failures++
      })
    })
  })
  return failures
}

/** Every column of every draw is that of the reference. */
export function columnsHold({ priced: { accounts }, reference, set }: Both): void {
  const years = set.terms.horizonYears
  const presentByYear = new Float64Array(years)
  const lostByMonth = new Float64Array(12)
  reference.forEach(({ account }, lane) => {
    // with several modes the program integrates further lives too coarsely for this comparison
    const closed = set.terms.units.every(({ modes }) => modes.length === 1)
    for (const [name, bound] of Object.entries(COLUMNS)) {
      const column = name as keyof typeof COLUMNS // entries of an object have plain text as keys
      if (!closed && column === 'residual') continue
      same(`${column} of draw ${lane}`, bound, accounts[column][lane] ?? 0, account[column])
    }
    for (let year = 0; year < years; year++) {
      const paid = ((accounts.paidYears[2 * lane + (year >> 5)] ?? 0) >>> (year & 31)) & 1
      same('cash', MONEY, paid === 1 ? (accounts.cash[lane * years + year] ?? 0) : 0, account.cash[year] ?? 0)
      presentByYear[year] = (presentByYear[year] ?? 0) + (account.presentByYear[year] ?? 0)
    }
    account.lostByMonthKwh.forEach((kwh, month) => {
      lostByMonth[month] = (lostByMonth[month] ?? 0) + kwh
    })
  })
  presentByYear.forEach((value, year) => {
    same('present value of a year', ENERGY, accounts.presentByYear[year] ?? 0, value)
  })
  lostByMonth.forEach((kwh, month) => {
    same('energy lost in a month', ENERGY, accounts.lostByMonthKwh[month] ?? 0, kwh)
  })
}

/** Every term of the sweep is what the reference pays under it (V1–V3). */
export function sweepHolds({ plan, player, priced, reference, set }: Both): void {
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
    same(`paid at ${term}`, MONEY, sums[layout.ofSweep(term, 'paid')] ?? 0, sum(asIs.map(({ paid }) => paid + 7)))
    same(`lost at ${term}`, ENERGY, sums[layout.ofSweep(term, 'energy')] ?? 0, sum(asIs.map(({ lost }) => lost)))
    same(
      `paid at ${term} if all stay`,
      MONEY,
      sums[layout.ofSweep(term, 'paidIfStays')] ?? 0,
      sum(stays.map(({ paid }) => paid + 7)),
    )
    same(`worth of ${term}`, ENERGY, sums[layout.ofSweep(term, 'worth')] ?? 0, sum(worth), total)
    same(
      `its square`,
      ENERGY,
      squares[layout.ofSweep(term, 'worth')] ?? 0,
      sum(worth.map(one => one * one)),
      total * total,
    )
  }
}

/** Units that were in the slot up to this failure. */
function livesOf({ before }: Failure): number {
  return before === null ? 1 : 1 + livesOf(before)
}

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
