import type { History } from '../history/history.ts'
import { ACCOUNT_COLUMNS } from '../ledger/accounts.ts'
import { lifetimeCosts, linesFrom } from '../ledger/cost-lines.ts'
import { FixedCosts } from '../ledger/fixed-costs.ts'
import type { EnergyTables } from '../ledger/outages/energy-tables.ts'
import { Priced, priceLifetimes } from '../ledger/price-lifetimes.ts'
import { ResidualValue } from '../ledger/residual-value.ts'
import type { OptionPlan } from './option-plan.ts'
import type { OptionSet } from './option-set.ts'
import type { ParameterSet } from './parameter-sets.ts'
import { MOST_LIFETIMES, OptionPlayer } from './play-option.ts'
import { Controls, controlLayout } from './sums/controls.ts'
import { FailureCounts, sumColumn } from './sums/failure-counts.ts'
import { Payments } from './sums/payments.ts'
import { ReserveFactors } from './sums/reserve-need.ts'
import { emptyDraws, type OptionDraws, SUM_PLACE, type SumColumn, SumLayout } from './sums/sum-layout.ts'
import { TermSweep } from './term-sweep.ts'

/** Which draws of a run to play. */
export interface DrawRange {
  /** Number of the first draw over the whole run. */
  readonly first: number
  readonly draws: number
  /** Draws that share a set; sets[i] belongs to the i-th such group. */
  readonly drawsPerSet: number
  readonly sets: readonly ParameterSet[]
}

/** An option prepared for a parameter set. */
interface Ready {
  readonly parameterSet: ParameterSet
  readonly set: OptionSet
  readonly costs: FixedCosts
  readonly tables: EnergyTables
  /** What still works at the horizon (C6). */
  readonly residual: ResidualValue
}

/**
 * The layout of the sums that a `DrawPlayer` returns for an option.
 *
 * @param plan - the option
 * @param sweep - with the warranty sweep
 * @param controls - with control variates (X3)
 */
export function layoutOf(plan: OptionPlan, sweep: boolean, controls = false): SumLayout {
  const { option, scenario } = plan
  return new SumLayout(
    option.populations.length,
    sweep ? scenario.horizonYears + 1 : 0,
    sweep ? option.offers.length : 0,
    controls ? controlLayout(plan) : null,
  )
}

/** Plays and prices ranges of draws of one option; its memory is reused from range to range. */
export class DrawPlayer {
  readonly #plan: OptionPlan
  readonly #layout: SumLayout
  readonly #player: OptionPlayer
  readonly #priced: Priced
  readonly #sweep: TermSweep | null
  readonly #controls: Controls | null
  readonly #reserve: ReserveFactors
  /** Values of the lifetimes being priced that are no column of the accounts. */
  readonly #lifetimeCost = new Float64Array(MOST_LIFETIMES)
  readonly #outOfPocket = new Float64Array(MOST_LIFETIMES)
  /** 1 where the owner pays for no visit. */
  readonly #noVisit = new Float64Array(MOST_LIFETIMES)
  readonly #repairs = new Float64Array(MOST_LIFETIMES)
  readonly #outages = new Float64Array(MOST_LIFETIMES)
  readonly #further = new Float64Array(MOST_LIFETIMES)
  readonly #counts: FailureCounts
  readonly #payments = new Payments()
  /** The latest set. */
  #ready: Ready | null = null
  /** Result of the present range. */
  #out: OptionDraws

  /**
   * @param plan - the option, ready to be played
   * @param sweep - whether to price every warranty term and every offer too (V1, W6)
   * @param controls - whether to keep control variates (X3)
   */
  constructor(plan: OptionPlan, sweep: boolean, controls = false) {
    const { scenario, option } = plan
    const years = scenario.horizonYears
    this.#plan = plan
    this.#layout = layoutOf(plan, sweep, controls)
    this.#player = new OptionPlayer(plan)
    this.#priced = new Priced(years)
    this.#sweep = sweep ? new TermSweep(option, this.#layout, years) : null
    const columns = this.#layout.controls
    this.#controls = columns === null ? null : new Controls(plan, columns, this.#layout.firstControl)
    this.#reserve = new ReserveFactors(scenario.reserve, years)
    this.#counts = new FailureCounts(option, this.#layout)
    this.#out = emptyDraws(0, 0, this.#layout.length, years, false, [])
  }

  /**
   * Plays and prices a range of draws.
   *
   * @param range - which draws, in which parameter sets
   * @returns results of the draws, in order
   */
  play(range: DrawRange): OptionDraws {
    const { first, draws, drawsPerSet, sets } = range
    const { horizonYears, reserve } = this.#plan.scenario
    const { length, populations } = this.#layout
    this.#out = emptyDraws(draws, sets.length, length, horizonYears, reserve.inflation !== null, [], populations)
    sets.forEach((parameterSet, setIndex) => {
      const from = setIndex * drawsPerSet
      const to = Math.min(from + drawsPerSet, draws)
      const ready = this.#readyFor(parameterSet)
      const { set, costs } = ready
      this.#out.yearlyCost[setIndex] = set.terms.yearlyCost
      this.#sweep?.begin(set.terms)
      this.#controls?.beginSet(this.#out)
      const sums = this.#out.setSums.subarray(setIndex * this.#layout.length, (setIndex + 1) * this.#layout.length)
      for (let draw = from; draw < to; ) draw = this.#playSome(first, draw, to, ready, sums)
      this.#enterYearly(to - from, set.terms.yearlyCost, costs)
      this.#sweep?.endSet(sums, this.#out.squares)
      this.#controls?.endSet(sums, to - from, set, this.#out)
    })
    return { ...this.#out, payments: [this.#payments.take(horizonYears)] }
  }

  /** The option in a parameter set; a single set is reused for every block. */
  #readyFor(parameterSet: ParameterSet): Ready {
    if (this.#ready?.parameterSet !== parameterSet) {
      const set = this.#plan.at(parameterSet, undefined, true)
      const costs = new FixedCosts(set.terms, this.#plan.supply)
      const tables = this.#plan.tablesFor(set.terms)
      this.#ready = { parameterSet, set, costs, tables, residual: new ResidualValue(set.terms, set.dense) }
    }
    return this.#ready
  }

  /** Plays draws of a set, as many as are priced together, and enters them in all sums; returns the draw after them. */
  #playSome(first: number, from: number, to: number, ready: Ready, sums: Float64Array): number {
    const { set, costs, tables, residual } = ready
    const draw = this.#player.playSome(first + from, first + to, set) - first
    const { history } = this.#player
    priceLifetimes(history, set.terms, tables, this.#priced, this.#out.byYear)
    residual.of(history, this.#priced.accounts.residual)
    this.#sumColumns(from, history, costs, sums)
    this.#counts.enter(history, sums, this.#out)
    this.#controls?.count(history, set)
    this.#enterCash(from, history, set.terms.yearlyCost)
    this.#sweep?.add(
      { history, terms: set.terms, tables, priced: this.#priced },
      this.#repairs,
      this.#outages,
      costs.lines.yearly,
      sums,
      this.#out.squares,
    )
    return draw
  }

  /** Sums and squares of every column, one loop a column. */
  #sumColumns(from: number, { n }: History, costs: FixedCosts, sums: Float64Array): void {
    const { accounts } = this.#priced
    const lifetimeCost = this.#lifetimeCost
    const outOfPocket = this.#outOfPocket
    const repairs = this.#repairs
    const straightLine = this.#plan.scenario.residualValue === 'straight-line'
    accounts.sumRepairs(n, repairs)
    accounts.sumOutages(n, this.#outages)
    accounts.sumFurther(n, straightLine, this.#further)
    lifetimeCosts(costs.total, repairs, this.#outages, this.#further, n, lifetimeCost)
    for (let i = 0; i < n; i++) {
      outOfPocket[i] = (repairs[i] ?? 0) + costs.lines.yearly
      this.#out.lifetimeCost[from + i] = lifetimeCost[i] ?? 0
      this.#out.lostKwh[from + i] = accounts.lostKwh[i] ?? 0
      const visits = accounts.nVisits[i] ?? 0
      this.#noVisit[i] = visits === 0 ? 1 : 0
      bump(this.#out.visitCounts, Math.min(visits, 2), 1)
    }
    this.#sum('lifetimeCost', lifetimeCost, n, sums)
    this.#sum('outOfPocket', outOfPocket, n, sums)
    this.#sum('noVisit', this.#noVisit, n, sums)
    for (const name of ACCOUNT_COLUMNS) this.#sum(name, accounts[name], n, sums)
    for (const line of SET_LINES) this.#sumConstant(line, costs.lines[line], n, sums)
    for (let year = 0; year < accounts.years; year++) {
      bump(this.#out.byYear.present, year, accounts.presentByYear[year] ?? 0)
    }
    for (let month = 0; month < 12; month++) {
      bump(this.#out.lostByMonthKwh, month, accounts.lostByMonthKwh[month] ?? 0)
    }
  }

  #sum(name: SumColumn, column: Float64Array, n: number, sums: Float64Array): void {
    sumColumn(column, n, SUM_PLACE[name], sums, this.#out.squares)
  }

  #sumConstant(name: SumColumn, value: number, n: number, sums: Float64Array): void {
    bump(sums, SUM_PLACE[name], n * value)
    bump(this.#out.squares, SUM_PLACE[name], n * value * value)
  }

  /** Enters what each lifetime pays beyond the yearly cost, which `#enterYearly` adds for all draws of a set at once. */
  #enterCash(from: number, { n }: History, yearlyCost: number): void {
    const { cash, paidYears, years } = this.#priced.accounts
    const { byYear, largestYear, bill10To15, need, needInMoney } = this.#out
    for (let lane = 0; lane < n; lane++) {
      const draw = from + lane
      const at = lane * years
      let largest = 0
      let bill = 0
      for (let word = 0; word < 2; word++) {
        // the years in which it paid, soonest first
        for (let bits = paidYears[2 * lane + word] as number; bits !== 0; bits &= bits - 1) {
          const year = 32 * word + 31 - Math.clz32(bits & -bits)
          const repairs = cash[at + year] as number
          if (repairs === 0) continue
          if (repairs > largest) largest = repairs
          if (year >= 10 && year < 15 && repairs > bill) bill = repairs
          byYear.cash[year] = (byYear.cash[year] as number) + repairs
          this.#payments.add(draw, year, repairs)
        }
      }
      largestYear[draw] = largest + yearlyCost
      bill10To15[draw] = years > 10 ? bill + yearlyCost : 0
      const [low, high] = [paidYears[2 * lane] as number, paidYears[2 * lane + 1] as number]
      need[draw] = this.#reserve.needBeside(yearlyCost, cash, at, low, high)
      if (needInMoney.length > 0) needInMoney[draw] = this.#reserve.needInMoney(yearlyCost, cash, at, low, high)
    }
  }

  /** Enters the yearly cost and the energy the design loses, for all draws of a set. */
  #enterYearly(draws: number, yearlyCost: number, costs: FixedCosts): void {
    const { byYear } = this.#out
    for (let year = 0; year < byYear.cash.length; year++) {
      bump(byYear.cash, year, draws * yearlyCost)
      bump(byYear.present, year, draws * (costs.byYear[year] ?? 0))
    }
  }
}

const SET_LINES = linesFrom('set')

function bump(column: Float64Array, i: number, amount: number): void {
  column[i] = (column[i] ?? 0) + amount
}
