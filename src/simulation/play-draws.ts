import { PLANNED } from '../history/history.ts'
import { allOf, type Stretch } from '../history/lifetimes.ts'
import { ACCOUNT_COLUMNS, Accounts } from '../ledger/accounts.ts'
import { Claims } from '../ledger/claims.ts'
import { lifetimeCosts, linesFrom } from '../ledger/cost-lines.ts'
import { FixedCosts } from '../ledger/fixed-costs.ts'
import { priceLifetimes } from '../ledger/price-lifetimes.ts'
import { RowBills } from '../ledger/repairs.ts'
import { ResidualValue } from '../ledger/residual-value.ts'
import { effectOf, FAILURE_EFFECTS, FIRST_BY_EFFECT } from './failure-effects.ts'
import {
  emptyDraws,
  FIGURE_PLACE,
  type Figure,
  FigureLayout,
  type OptionDraws,
  POPULATION_FIGURE_PLACE,
  POPULATION_FIGURES,
} from './option-figures.ts'
import type { OptionPlan, OptionSet } from './option-plan.ts'
import type { ParameterSet } from './parameter-sets.ts'
import { Payments } from './payments.ts'
import { MOST_LIFETIMES, OptionPlayer } from './play-option.ts'
import { ReserveFactors } from './reserve-need.ts'
import { WarrantySweep } from './warranty-sweep.ts'

/** Which draws of a run to play. */
export interface DrawRange {
  /** Number of the first draw over the whole run. */
  readonly first: number
  readonly draws: number
  /** Draws that share a set; sets[i] belongs to the i-th such group. */
  readonly drawsPerSet: number
  readonly sets: readonly ParameterSet[]
}

/** An option made ready for a parameter set. */
interface Ready {
  readonly parameterSet: ParameterSet
  readonly set: OptionSet
  readonly costs: FixedCosts
  /** What still works at the horizon (C6). */
  readonly residual: ResidualValue
}

/**
 * The layout of the sums that a `DrawPlayer` returns for an option.
 *
 * @param plan - the option
 * @param sweep - with the warranty sweep
 */
export function layoutOf(plan: OptionPlan, sweep: boolean): FigureLayout {
  const { option, scenario } = plan
  return new FigureLayout(
    option.populations.length,
    sweep ? scenario.horizonYears + 1 : 0,
    sweep ? option.offers.length : 0,
  )
}

/** Plays and prices ranges of draws of one option; the memory for what is in hand serves range after range. */
export class DrawPlayer {
  readonly #plan: OptionPlan
  readonly #layout: FigureLayout
  readonly #player: OptionPlayer
  readonly #accounts: Accounts
  readonly #claims = new Claims()
  readonly #bills = new RowBills()
  readonly #sweep: WarrantySweep | null
  readonly #reserve: ReserveFactors
  /** Figures of the lifetimes in hand that are no column of the accounts. */
  readonly #lifetimeCost = new Float64Array(MOST_LIFETIMES)
  readonly #outOfPocket = new Float64Array(MOST_LIFETIMES)
  readonly #repairs = new Float64Array(MOST_LIFETIMES)
  readonly #outages = new Float64Array(MOST_LIFETIMES)
  readonly #further = new Float64Array(MOST_LIFETIMES)
  /** Figures of the populations in one lifetime; all 0 between lifetimes. */
  readonly #counts: Float64Array
  /** By population: place of what its failures stop among `FAILURE_EFFECTS`. */
  readonly #effects: Uint8Array
  readonly #payments = new Payments()
  /** The latest set. */
  #ready: Ready | null = null
  /** What the range in hand comes to. */
  #out: OptionDraws

  /**
   * @param plan - the option, ready to be played
   * @param sweep - whether to price every warranty term and every offer too (V1, W6)
   */
  constructor(plan: OptionPlan, sweep: boolean) {
    const { scenario, option, supply } = plan
    const years = scenario.horizonYears
    this.#plan = plan
    this.#layout = layoutOf(plan, sweep)
    this.#player = new OptionPlayer(plan)
    this.#accounts = new Accounts(years)
    this.#sweep = sweep ? new WarrantySweep(option, supply, this.#layout, years) : null
    this.#reserve = new ReserveFactors(scenario.reserve, years)
    this.#effects = Uint8Array.from(option.populations, ({ kind }) => FAILURE_EFFECTS.indexOf(effectOf(kind)))
    this.#counts = new Float64Array(option.populations.length * POPULATION_FIGURES.length)
    this.#out = emptyDraws(0, 0, this.#layout.length, years, false, [])
  }

  /**
   * Plays and prices a range of draws.
   *
   * @param range - which draws, in which parameter sets
   * @returns what the draws came to, in order
   */
  play(range: DrawRange): OptionDraws {
    const { first, draws, drawsPerSet, sets } = range
    const { horizonYears, reserve } = this.#plan.scenario
    this.#out = emptyDraws(draws, sets.length, this.#layout.length, horizonYears, reserve.inflation !== null, [])
    sets.forEach((parameterSet, setIndex) => {
      const from = setIndex * drawsPerSet
      const to = Math.min(from + drawsPerSet, draws)
      const ready = this.#readyFor(parameterSet)
      const { set, costs } = ready
      this.#out.yearlyCost[setIndex] = set.terms.yearlyCost
      this.#sweep?.begin(set.terms)
      const sums = this.#out.setSums.subarray(setIndex * this.#layout.length, (setIndex + 1) * this.#layout.length)
      for (let draw = from; draw < to; ) draw = this.#playSome(first, draw, to, ready, sums)
      this.#enterYearly(to - from, set.terms.yearlyCost, costs)
      this.#sweep?.endSet(sums, this.#out.squares)
    })
    return { ...this.#out, payments: [this.#payments.take(horizonYears)] }
  }

  /** The option in a parameter set; a single set serves block after block. */
  #readyFor(parameterSet: ParameterSet): Ready {
    if (this.#ready?.parameterSet !== parameterSet) {
      const set = this.#plan.at(parameterSet)
      const costs = new FixedCosts(set.terms, this.#plan.supply)
      this.#ready = { parameterSet, set, costs, residual: new ResidualValue(set.terms, set.often) }
    }
    return this.#ready
  }

  /** Plays draws of a set until the table is full, prices them and enters them everywhere; gives the draw after them. */
  #playSome(first: number, from: number, to: number, { set, costs, residual }: Ready, sums: Float64Array): number {
    const draw = this.#player.playSome(first + from, first + to, set) - first
    const stretch = allOf(this.#player.lifetimes)
    const accounts = this.#accounts
    priceLifetimes(stretch, set.terms, this.#plan.supply, accounts, this.#out.byYear, this.#claims, this.#bills)
    residual.of(stretch, accounts.residual)
    this.#sumFigures(from, stretch, costs, sums)
    this.#countFailures(stretch, sums)
    this.#enterCash(from, stretch, set.terms.yearlyCost)
    this.#sweep?.add(
      { stretch, terms: set.terms, accounts, claims: this.#claims, bills: this.#bills },
      costs.lines.yearly,
      sums,
      this.#out.squares,
    )
    return draw
  }

  /** Sums and squares of every figure, one loop a figure. */
  #sumFigures(from: number, { first, end }: Stretch, costs: FixedCosts, sums: Float64Array): void {
    const accounts = this.#accounts
    const n = end - first
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
      bump(this.#out.visitCounts, Math.min(accounts.nVisits[i] ?? 0, 2), 1)
    }
    this.#sum('lifetimeCost', lifetimeCost, n, sums)
    this.#sum('outOfPocket', outOfPocket, n, sums)
    for (const figure of ACCOUNT_COLUMNS) this.#sum(figure, accounts[figure], n, sums)
    for (const line of SET_LINES) this.#sumConstant(line, costs.lines[line], n, sums)
    for (let year = 0; year < accounts.years; year++) {
      bump(this.#out.byYear.present, year, accounts.presentByYear[year] ?? 0)
    }
    for (let month = 0; month < 12; month++) {
      bump(this.#out.lostByMonthKwh, month, accounts.lostByMonthKwh[month] ?? 0)
    }
  }

  #sum(figure: Figure, column: Float64Array, n: number, sums: Float64Array): void {
    let sum = 0
    let squares = 0
    for (let i = 0; i < n; i++) {
      const value = column[i] ?? 0
      sum += value
      squares += value * value
    }
    bump(sums, FIGURE_PLACE[figure], sum)
    bump(this.#out.squares, FIGURE_PLACE[figure], squares)
  }

  #sumConstant(figure: Figure, value: number, n: number, sums: Float64Array): void {
    bump(sums, FIGURE_PLACE[figure], n * value)
    bump(this.#out.squares, FIGURE_PLACE[figure], n * value * value)
  }

  /** Counts failures by lifetime, population and year. */
  #countFailures({ lifetimes, first, end }: Stretch, sums: Float64Array): void {
    const { history, firstRow } = lifetimes
    const { byYear } = this.#out
    const { failures, firstFailed } = byYear
    const firstOf = FAILURE_EFFECTS.map(effect => byYear[FIRST_BY_EFFECT[effect]])
    const layout = this.#layout
    const { squares } = this.#out
    const at = layout.ofPopulation(0, POPULATION_FIGURES[0])
    const counts = this.#counts
    const width = counts.length
    for (let lifetime = first; lifetime < end; lifetime++) {
      const to = firstRow[lifetime + 1] ?? 0
      let row = firstRow[lifetime] ?? 0
      if (row === to) continue
      let earliest = Infinity
      let failed = 0
      earliestOf.fill(Infinity)
      failedOf.fill(0)
      for (; row < to; row++) {
        const population = history.place[row] ?? 0
        const place = POPULATION_FIGURES.length * population
        if (history.action[row] === PLANNED) {
          bump(counts, place + REPLACED_AS_PLANNED, 1)
          continue
        }
        const failedAt = history.failedAt[row] ?? 0
        failed++
        bump(failures, Math.floor(failedAt), 1)
        bump(counts, place + FAILED, 1)
        if ((history.before[row] ?? -1) < 0) bump(counts, place + FIRST_FAILED, 1)
        if (failedAt < earliest) earliest = failedAt
        const effect = this.#effects[population] ?? 0
        bump(failedOf, effect, 1)
        if (failedAt < (earliestOf[effect] ?? 0)) earliestOf[effect] = failedAt
      }
      if (earliest !== Infinity) bump(firstFailed, Math.floor(earliest), 1)
      for (let effect = 0; effect < FAILURE_EFFECTS.length; effect++) {
        const n = failedOf[effect] ?? 0
        const place = EFFECT_PLACES[effect] ?? 0
        const first = firstOf[effect]
        if (n === 0 || first === undefined) continue
        bump(first, Math.floor(earliestOf[effect] ?? 0), 1)
        bump(sums, place, n)
        bump(squares, place, n * n)
      }
      bump(sums, FIGURE_PLACE.failures, failed)
      bump(squares, FIGURE_PLACE.failures, failed * failed)
      for (let i = 0; i < width; i++) {
        const count = counts[i] ?? 0
        if (count === 0) continue
        bump(sums, at + i, count)
        bump(squares, at + i, count * count)
        counts[i] = 0
      }
    }
  }

  /** Enters what each lifetime pays beyond the yearly cost, which `#enterYearly` adds for all draws of a set at once. */
  #enterCash(from: number, { first, end }: Stretch, yearlyCost: number): void {
    const { cash, years } = this.#accounts
    const { byYear, largestYear, bill10To15, need, needInMoney } = this.#out
    for (let i = 0; i < end - first; i++) {
      const draw = from + i
      const at = i * years
      let largest = 0
      let bill = 0
      for (let year = 0; year < years; year++) {
        const repairs = cash[at + year] ?? 0
        if (repairs === 0) continue
        if (repairs > largest) largest = repairs
        if (year >= 10 && year < 15 && repairs > bill) bill = repairs
        bump(byYear.cash, year, repairs)
        this.#payments.add(draw, year, repairs)
      }
      largestYear[draw] = largest + yearlyCost
      bill10To15[draw] = years > 10 ? bill + yearlyCost : 0
      need[draw] = this.#reserve.needBeside(yearlyCost, cash, at)
      if (needInMoney.length > 0) needInMoney[draw] = this.#reserve.need(cash, true, yearlyCost, at)
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

const EFFECT_PLACES = FAILURE_EFFECTS.map(effect => FIGURE_PLACE[effect])

// of the lifetime in hand, by what its failures stop: the first, and how many
const earliestOf = new Float64Array(FAILURE_EFFECTS.length)
const failedOf = new Float64Array(FAILURE_EFFECTS.length)

// places among the figures of a population
const FAILED = POPULATION_FIGURE_PLACE.failures
const FIRST_FAILED = POPULATION_FIGURE_PLACE.firstFailures
const REPLACED_AS_PLANNED = POPULATION_FIGURE_PLACE.plannedReplacements

function bump(column: Float64Array, i: number, amount: number): void {
  column[i] = (column[i] ?? 0) + amount
}
