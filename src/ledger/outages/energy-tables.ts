import { DAYS_PER_YEAR, MONTHS_PER_YEAR } from '../../units.ts'
import type { Accounts } from '../accounts.ts'
import type { EnergySupply, OptionTerms } from '../terms.ts'
import { tableByRule, tableOfShare } from './make-month-table.ts'
import { type MonthClock, monthClock } from './month-clock.ts'
import {
  discountIn,
  KWH,
  KWH_DISCOUNTED,
  kwhOfPart,
  type MonthTable,
  markWhole,
  settleWhole,
  wholeMonths,
  worthOfPart,
  worthOfWhole,
} from './month-table.ts'
import type { Spells } from './spells.ts'

/** What is down in a spell, as shares from 0 to 1. */
export interface DownShares {
  readonly generation: number
  /** Of the battery's value. */
  readonly battery: number
  /** Of its backup. */
  readonly backup: number
}

/** Number of lost shares whose tables are kept, where a known load says what each loses. Ours. */
const SHARES_KEPT = 64

/**
 * What losing a share of an option's generation costs, month by month (T2, C5), ready for many outages. The value of a
 * lost share f is f·V₁ + f³·V₃, with V₁ and V₃ of each month computed once (`month-table.ts`). An outage costs its
 * parts of the first and of the last month, and one look-up for the months between. Where a known load says what a
 * share loses, each share has a table of its own, made when first needed.
 */
export class EnergyTables {
  readonly #supply: EnergySupply
  readonly #terms: OptionTerms
  readonly #clock: MonthClock
  readonly #byRule: MonthTable
  readonly #byShare = new Map<number, MonthTable>()

  /**
   * @param supply - energy of the option
   * @param terms - prices of energy, discount, battery
   */
  constructor(supply: EnergySupply, terms: OptionTerms) {
    this.#supply = supply
    this.#terms = terms
    this.#clock = monthClock(supply.monthStart, terms.horizonYears)
    this.#byRule = tableByRule(supply, terms, this.#clock)
  }

  /**
   * Enters the generation that spells lose.
   *
   * @param spells - in which nothing changes
   * @param accounts - added to
   */
  loseSpells(spells: Spells, accounts: Accounts): void {
    const { n, lane: laneOf, from, to, share: shareOf } = spells
    const { downYears, lostKwh, lostKwhDiscounted, outageEnergy, monthKwh, monthValue } = accounts
    const partial = this.#supply.partialLoss !== null
    const clock = this.#clock
    const { starts } = clock
    const rate = this.#terms.discount.rate
    let table = this.#byRule
    for (let i = 0; i < n; i++) {
      const lane = laneOf[i] as number // the spell is there, as are lane and months
      const share = shareOf[i] as number
      const start = from[i] as number
      const end = to[i] as number
      downYears[lane] = (downYears[lane] as number) + share * (end - start)
      if (share <= 0) continue
      if (partial) table = this.#tableOf(share)
      const linear = partial ? 1 : share
      const cubic = partial ? 0 : share * share * share
      const { numbers } = table
      const first = clock.at(start)
      const last = clock.at(end)
      const until = first === last ? end : (starts[first + 1] as number)
      let kwh = kwhOfPart(numbers, first, linear, start, until)
      let discounted = kwh * discountIn(table, first, rate, (start + until) / 2)
      let value = worthOfPart(table, first, linear, cubic, start, until)
      monthKwh[first] = (monthKwh[first] as number) + kwh
      monthValue[first] = (monthValue[first] as number) + value
      if (first !== last) {
        const since = starts[last] as number
        const more = kwhOfPart(numbers, last, linear, since, end)
        const worth = worthOfPart(table, last, linear, cubic, since, end)
        kwh += more
        discounted += more * discountIn(table, last, rate, (since + end) / 2)
        value += worth
        monthKwh[last] = (monthKwh[last] as number) + more
        monthValue[last] = (monthValue[last] as number) + worth
        if (last > first + 1) {
          kwh += linear * wholeMonths(table, KWH, first + 1, last)
          discounted += linear * wholeMonths(table, KWH_DISCOUNTED, first + 1, last)
          value += worthOfWhole(table, first + 1, last, linear, cubic)
          markWhole(table, first + 1, last, linear, cubic)
        }
      }
      lostKwh[lane] = (lostKwh[lane] as number) + kwh
      lostKwhDiscounted[lane] = (lostKwhDiscounted[lane] as number) + discounted
      outageEnergy[lane] = (outageEnergy[lane] as number) + value
    }
    this.#settle(accounts)
  }

  /**
   * Enters the battery earnings that a spell loses (O7).
   *
   * @param share - of its value that is lost, faded
   * @param from - start, years
   * @param to - end, years, up to the horizon
   * @param accounts - added to
   * @param lane - the lifetime
   */
  loseBattery(share: number, from: number, to: number, accounts: Accounts, lane: number): void {
    const days = this.#batteryDays(share, from, to, accounts.presentByYear)
    accounts.batteryDays[lane] = (accounts.batteryDays[lane] as number) - days // the lane is there
    accounts.batteryOutage[lane] =
      (accounts.batteryOutage[lane] as number) + (this.#terms.battery?.valuePerDay ?? 0) * days
  }

  /**
   * Value that a spell loses, as `loseSpells` and `loseBattery` enter it.
   *
   * @param down - what is down
   * @param batteryWeight - how far the battery has faded
   * @param from - start, years
   * @param to - end, years, up to the horizon
   * @returns present value
   */
  worth(down: DownShares, batteryWeight: number, from: number, to: number): number {
    const { generation, battery } = down
    const ofBattery =
      battery > 0
        ? (this.#terms.battery?.valuePerDay ?? 0) * this.#batteryDays(battery * batteryWeight, from, to, null)
        : 0
    if (generation <= 0) return ofBattery
    const partial = this.#supply.partialLoss !== null
    const table = partial ? this.#tableOf(generation) : this.#byRule
    const linear = partial ? 1 : generation
    const cubic = partial ? 0 : generation * generation * generation
    const { starts } = this.#clock
    const first = this.#clock.at(from)
    const last = this.#clock.at(to)
    if (first === last) return ofBattery + worthOfPart(table, first, linear, cubic, from, to)
    return (
      ofBattery +
      worthOfPart(table, first, linear, cubic, from, starts[first + 1] as number) + // every month has its entries
      worthOfPart(table, last, linear, cubic, starts[last] as number, to) +
      worthOfWhole(table, first + 1, last, linear, cubic)
    )
  }

  /** Moves the losses of the months to years and calendar months. */
  #settle(accounts: Accounts): void {
    settleWhole(this.#byRule, accounts)
    for (const table of this.#byShare.values()) settleWhole(table, accounts)
    const { presentByYear, lostByMonthKwh, monthValue, monthKwh } = accounts
    for (let month = 0; month < this.#clock.months; month++) {
      const year = Math.floor(month / MONTHS_PER_YEAR)
      const calendarMonth = this.#supply.calendarMonth[month % MONTHS_PER_YEAR] ?? 0
      presentByYear[year] = (presentByYear[year] as number) + (monthValue[month] as number) // every month has its entries
      lostByMonthKwh[calendarMonth] = (lostByMonthKwh[calendarMonth] as number) + (monthKwh[month] as number)
    }
    monthValue.fill(0)
    monthKwh.fill(0)
  }

  /**
   * O7: days on which the battery does not earn, discounted and faded, without growth of prices; by month as for energy
   * (T2).
   */
  #batteryDays(share: number, from: number, to: number, presentByYear: Float64Array | null): number {
    const { battery, discount } = this.#terms
    if (battery === null) return 0
    const { fadeRate, valuePerDay } = battery
    let days = 0
    let start = from
    for (let month = this.#clock.at(from); start < to; month++) {
      const end = Math.min(to, this.#clock.starts[month + 1] as number) // within the horizon
      const middle = (start + end) / 2
      const present = discountIn(this.#byRule, month, discount.rate, middle)
      const lost = share * DAYS_PER_YEAR * (end - start) * present * (fadeRate === 0 ? 1 : Math.exp(fadeRate * middle))
      days += lost
      if (presentByYear !== null) {
        const year = Math.floor(month / MONTHS_PER_YEAR)
        presentByYear[year] = (presentByYear[year] as number) + valuePerDay * lost
      }
      start = end
    }
    return days
  }

  #tableOf(share: number): MonthTable {
    const known = this.#byShare.get(share)
    if (known !== undefined) return known
    const made = tableOfShare(this.#supply, this.#terms, this.#clock, share, this.#byRule)
    if (this.#byShare.size >= SHARES_KEPT) this.#forgetUnused()
    this.#byShare.set(share, made)
    return made
  }

  #forgetUnused(): void {
    for (const [share, table] of this.#byShare) if (table.used[0] === 0) this.#byShare.delete(share)
  }
}
