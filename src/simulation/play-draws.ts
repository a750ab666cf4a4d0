import { type History, PLANNED } from '../history/history.ts'
import { Account, CoverTally } from '../ledger/account.ts'
import { Claims } from '../ledger/claims.ts'
import { priceDraw } from '../ledger/price-draw.ts'
import { RowBills } from '../ledger/repairs.ts'
import { FIGURE_PLACE, FigureLayout, type OptionDraws } from './option-figures.ts'
import type { OptionPlan, OptionSet } from './option-plan.ts'
import type { ParameterSet } from './parameter-sets.ts'
import { OptionPlayer } from './play-option.ts'
import { ReserveFactors } from './reserve-need.ts'
import { SetCosts } from './set-costs.ts'
import { WarrantySweep } from './warranty-sweep.ts'

/** Which draws of a run to play. */
export interface DrawRange {
  /** Number of the first draw over the whole run. */
  readonly first: number
  readonly draws: number
  /** Draws that share a set; sets[i] belongs to the i-th such group. */
  readonly drawsPerSet: number
  readonly sets: readonly ParameterSet[]
  /** Whether to price every warranty term and every offer too (V1, W6). */
  readonly sweep: boolean
}

/**
 * The layout of the sums that `playDraws` returns for an option.
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

/**
 * Plays and prices a range of draws of one option.
 *
 * @param plan - the option, ready to be played
 * @param range - which draws, in which parameter sets
 * @returns what the draws came to, in order
 */
export function playDraws(plan: OptionPlan, range: DrawRange): OptionDraws {
  return new DrawsInHand(plan, range).play()
}

class DrawsInHand {
  readonly #plan: OptionPlan
  readonly #range: DrawRange
  readonly #layout: FigureLayout
  readonly #out: OptionDraws
  readonly #player: OptionPlayer
  readonly #account: Account
  readonly #tally: CoverTally
  readonly #claims = new Claims()
  readonly #bills = new RowBills()
  readonly #sweep: WarrantySweep | null
  readonly #reserve: ReserveFactors
  /** What the owner pays in each year; the yearly cost alone between draws. */
  readonly #yearCash: Float64Array
  /** Figures of the draw in hand, without those of the sweep; all 0 between draws. */
  readonly #figures: Float64Array
  readonly #paidDraw: number[] = []
  readonly #paidYear: number[] = []
  readonly #paidAmount: number[] = []

  constructor(plan: OptionPlan, range: DrawRange) {
    const { scenario, option, supply } = plan
    const years = scenario.horizonYears
    const { draws, sets, sweep } = range
    this.#plan = plan
    this.#range = range
    this.#layout = layoutOf(plan, sweep)
    this.#player = new OptionPlayer(plan)
    this.#account = new Account(years)
    this.#tally = new CoverTally(years)
    this.#sweep = sweep ? new WarrantySweep(option, supply, this.#layout, years) : null
    this.#reserve = new ReserveFactors(scenario.reserve, years)
    this.#yearCash = new Float64Array(years)
    this.#figures = new Float64Array(this.#layout.ofSweep(0, 'paid'))
    this.#out = {
      draws,
      setSums: new Float64Array(sets.length * this.#layout.length),
      squares: new Float64Array(this.#layout.length),
      lifetimeCost: new Float64Array(draws),
      lostKwh: new Float64Array(draws),
      need: new Float64Array(draws),
      needInMoney: new Float64Array(scenario.reserve.inflation === null ? 0 : draws),
      largestYear: new Float64Array(draws),
      bill10To15: new Float64Array(draws),
      payments: { draw: new Int32Array(0), year: new Uint8Array(0), amount: new Float64Array(0) },
      yearlyCost: new Float64Array(sets.length),
      byYear: {
        failures: new Float64Array(years),
        firstFailed: new Float64Array(years),
        cash: new Float64Array(years),
        present: new Float64Array(years),
        partsBill: this.#tally.partsBill,
        promised: this.#tally.promised,
        wholeBill: this.#tally.wholeBill,
        paid: this.#tally.paid,
      },
      lostByMonthKwh: new Float64Array(12),
      visitCounts: new Float64Array(3),
    }
  }

  play(): OptionDraws {
    const { draws, drawsPerSet, sets, first } = this.#range
    sets.forEach((parameterSet, setIndex) => {
      const from = setIndex * drawsPerSet
      const to = Math.min(from + drawsPerSet, draws)
      const set = this.#plan.at(parameterSet)
      const yearly = new SetCosts(this.#plan, set)
      this.#out.yearlyCost[setIndex] = set.terms.yearlyCost
      this.#sweep?.begin(set.terms)
      const sums = this.#out.setSums.subarray(setIndex * this.#layout.length, (setIndex + 1) * this.#layout.length)
      this.#yearCash.fill(set.terms.yearlyCost)
      for (let draw = from; draw < to; draw++) this.#playOne(draw, first + draw, set, yearly, sums)
      this.#enterYearly(to - from, set.terms.yearlyCost, yearly)
      this.#sweep?.endSet(sums, this.#out.squares)
    })
    return {
      ...this.#out,
      payments: {
        draw: Int32Array.from(this.#paidDraw),
        year: Uint8Array.from(this.#paidYear),
        amount: Float64Array.from(this.#paidAmount),
      },
    }
  }

  /** Plays one draw, prices it and enters it everywhere. */
  #playOne(draw: number, overall: number, set: OptionSet, costs: SetCosts, sums: Float64Array): void {
    const { terms } = set
    const { history, chance } = this.#player
    const account = this.#account
    this.#player.play(overall, set)
    priceDraw(history, terms, this.#plan.supply, chance, account, this.#tally, this.#claims, this.#bills)
    account.residual = costs.residual.of(history)
    this.#gather(draw, costs)
    this.#countFailures(history)
    this.#enterCash(draw, terms.yearlyCost)
    const figures = this.#figures
    const { squares } = this.#out
    for (let i = 0; i < figures.length; i++) {
      const value = figures[i] ?? 0
      if (value === 0) continue
      sums[i] = (sums[i] ?? 0) + value
      squares[i] = (squares[i] ?? 0) + value * value
      figures[i] = 0
    }
    this.#sweep?.add(
      { history, terms, chance, account, claims: this.#claims, bills: this.#bills },
      costs.yearly,
      sums,
      squares,
    )
  }

  #gather(draw: number, costs: SetCosts): void {
    const account = this.#account
    const figures = this.#figures
    const straightLine = this.#plan.scenario.residualValue === 'straight-line'
    const lost = account.outageEnergy + account.batteryOutage
    const lifetimeCost = costs.fixed + account.repairs + lost - (straightLine ? account.residual : 0)
    figures[FIGURE_PLACE.lifetimeCost] = lifetimeCost
    figures[FIGURE_PLACE.yearly] = costs.yearly
    figures[FIGURE_PLACE.parts] = account.parts
    figures[FIGURE_PLACE.surcharges] = account.surcharges
    figures[FIGURE_PLACE.labour] = account.labour
    figures[FIGURE_PLACE.visits] = account.visits
    figures[FIGURE_PLACE.outageEnergy] = account.outageEnergy
    figures[FIGURE_PLACE.designEnergy] = costs.designEnergy
    figures[FIGURE_PLACE.batteryOutage] = account.batteryOutage
    figures[FIGURE_PLACE.residual] = account.residual
    figures[FIGURE_PLACE.outOfPocket] = account.repairs + costs.yearly
    figures[FIGURE_PLACE.coveredParts] = account.coveredParts
    figures[FIGURE_PLACE.coveredLabour] = account.coveredLabour
    figures[FIGURE_PLACE.coveredVisits] = account.coveredVisits
    figures[FIGURE_PLACE.nVisits] = account.nVisits
    figures[FIGURE_PLACE.lostKwh] = account.lostKwh
    figures[FIGURE_PLACE.lostKwhDiscounted] = account.lostKwhDiscounted
    figures[FIGURE_PLACE.downYears] = account.downYears
    figures[FIGURE_PLACE.backupDownYears] = account.backupDownYears
    this.#out.lifetimeCost[draw] = lifetimeCost
    this.#out.lostKwh[draw] = account.lostKwh
  }

  #countFailures(history: History): void {
    const layout = this.#layout
    const figures = this.#figures
    const { failures, firstFailed } = this.#out.byYear
    let first = Infinity
    for (let row = 0; row < history.nFailures; row++) {
      const population = history.place[row] ?? 0
      if (history.action[row] === PLANNED) {
        bump(figures, layout.ofPopulation(population, 'plannedReplacements'), 1)
        continue
      }
      const at = history.failedAt[row] ?? 0
      bump(figures, FIGURE_PLACE.failures, 1)
      bump(failures, Math.floor(at), 1)
      bump(figures, layout.ofPopulation(population, 'failures'), 1)
      if ((history.before[row] ?? -1) < 0) bump(figures, layout.ofPopulation(population, 'firstFailures'), 1)
      if (at < first) first = at
    }
    if (first !== Infinity) bump(firstFailed, Math.floor(first), 1)
  }

  /** Enters what the draw pays beyond the yearly cost, which `#enterYearly` adds for all draws of a set at once. */
  #enterCash(draw: number, yearlyCost: number): void {
    const account = this.#account
    const { byYear, lostByMonthKwh } = this.#out
    const yearCash = this.#yearCash
    const paidBefore = this.#paidYear.length
    let largest = yearlyCost
    let bill = yearCash.length > 10 ? yearlyCost : 0
    for (let year = 0; year < yearCash.length; year++) {
      const present = account.present[year] ?? 0
      if (present === 0) continue
      bump(byYear.present, year, present)
      const repairs = account.cash[year] ?? 0
      if (repairs === 0) continue
      const cash = repairs + yearlyCost
      yearCash[year] = cash
      if (cash > largest) largest = cash
      if (year >= 10 && year < 15 && cash > bill) bill = cash
      bump(byYear.cash, year, repairs)
      this.#paidDraw.push(draw)
      this.#paidYear.push(year)
      this.#paidAmount.push(repairs)
    }
    this.#out.largestYear[draw] = largest
    this.#out.bill10To15[draw] = bill
    this.#out.need[draw] = this.#reserve.need(yearCash)
    if (this.#out.needInMoney.length > 0) this.#out.needInMoney[draw] = this.#reserve.need(yearCash, true)
    for (let paid = paidBefore; paid < this.#paidYear.length; paid++) yearCash[this.#paidYear[paid] ?? 0] = yearlyCost
    if (account.lostKwh !== 0) {
      for (let month = 0; month < 12; month++) bump(lostByMonthKwh, month, account.lostByMonthKwh[month] ?? 0)
    }
    bump(this.#out.visitCounts, Math.min(account.nVisits, 2), 1)
  }

  /** Enters the yearly cost and the energy the design loses, for all draws of a set. */
  #enterYearly(draws: number, yearlyCost: number, costs: SetCosts): void {
    const { byYear } = this.#out
    for (let year = 0; year < byYear.cash.length; year++) {
      bump(byYear.cash, year, draws * yearlyCost)
      bump(byYear.present, year, draws * (costs.byYear[year] ?? 0))
    }
  }
}

function bump(column: Float64Array, i: number, amount: number): void {
  column[i] = (column[i] ?? 0) + amount
}
