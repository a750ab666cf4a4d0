import { DAYS_PER_YEAR, MONTHS_PER_YEAR } from '../units.ts'
import type { Accounts } from './accounts.ts'
import { type LostShare, lostShareOf, selfUsedFloor } from './energy-value.ts'
import type { EnergySupply, OptionTerms } from './terms.ts'

/** What is down in a spell, as shares from 0 to 1. */
export interface DownShares {
  readonly generation: number
  /** Of the battery's value. */
  readonly battery: number
  /** Of its backup. */
  readonly backup: number
}

/** Numbers a month in a table; what each is. */
const WIDTH = 11
/** kWh a year at the pace of the month. */
const KWH = 0
/** Discount in its middle, and that moment, years. */
const DISCOUNT = 1
const MIDDLE = 2
/** Value a year, discounted, of the linear and of the cubic part: four terms each of the series around the middle. */
const LINEAR = 3
const CUBIC = 7

/** Shares whose tables are kept where a known load says what each loses. Ours. */
const SHARES_KEPT = 64

/**
 * What losing a share of an option's generation costs, month by month (T2, C5), ready for many outages. The value of a
 * lost share f is f·V₁ + f³·V₃, with V₁ and V₃ of each month worked out once; growth and discount move within a month by
 * the first terms of their series around its middle (1e-9 for a rate of 10 % a year). Where a known load says what a
 * share loses, each share has a table of its own, made when it is first met.
 */
export class EnergyTables {
  readonly #supply: EnergySupply
  readonly #terms: OptionTerms
  readonly #monthStart: Float64Array
  readonly #calendarMonth: Uint8Array
  readonly #byRule: Float64Array
  readonly #byShare = new Map<number, Float64Array>()

  /**
   * @param supply - energy of the option
   * @param terms - prices of energy, discount, battery
   */
  constructor(supply: EnergySupply, terms: OptionTerms) {
    this.#supply = supply
    this.#terms = terms
    this.#monthStart = supply.monthStart
    this.#calendarMonth = Uint8Array.from(supply.calendarMonth)
    this.#byRule = tabulate(supply, terms)
  }

  /**
   * Enters what a spell in which nothing changes loses (O5, O7).
   *
   * @param down - what is down
   * @param batteryWeight - how far the battery has faded; see `BatteryFade`
   * @param from - start, years
   * @param to - end, years, up to the horizon
   * @param accounts - added to
   * @param lane - the lifetime
   */
  lose(down: DownShares, batteryWeight: number, from: number, to: number, accounts: Accounts, lane: number): void {
    const { generation, battery, backup } = down
    accounts.downYears[lane] = (accounts.downYears[lane] as number) + generation * (to - from) // the lane is there
    if (backup > 0) accounts.backupDownYears[lane] = (accounts.backupDownYears[lane] as number) + backup * (to - from)
    if (generation > 0) this.#loseGeneration(generation, from, to, accounts, lane)
    if (battery > 0) this.#loseBattery(battery * batteryWeight, from, to, accounts, lane)
  }

  #loseGeneration(share: number, from: number, to: number, accounts: Accounts, lane: number): void {
    const partial = this.#supply.partialLoss !== null
    const table = partial ? this.#tableOf(share) : this.#byRule
    const linear = partial ? 1 : share
    const cubic = partial ? 0 : share * share * share
    const { presentByYear, lostByMonthKwh } = accounts
    const monthStart = this.#monthStart
    const discountRate = this.#terms.discount.rate
    let year = Math.floor(from)
    let month = this.#monthOfYear(from - year)
    let i = WIDTH * (MONTHS_PER_YEAR * year + month)
    let start = from
    let kwh = 0
    let kwhDiscounted = 0
    let value = 0
    for (;;) {
      const monthEnd = year + (monthStart[month + 1] as number) // within the calendar, as is the table
      const end = Math.min(to, monthEnd)
      const years = end - start
      const u = (start + end) / 2 - (table[i + MIDDLE] as number)
      const lost = linear * (table[i + KWH] as number) * years
      const worth = years * (linear * series(table, i + LINEAR, u) + cubic * series(table, i + CUBIC, u))
      kwh += lost
      kwhDiscounted += lost * (table[i + DISCOUNT] as number) * growthBy(discountRate * u)
      value += worth
      presentByYear[year] = (presentByYear[year] as number) + worth
      const calendarMonth = this.#calendarMonth[month] as number
      lostByMonthKwh[calendarMonth] = (lostByMonthKwh[calendarMonth] as number) + lost
      if (end >= to) break
      start = end
      i += WIDTH
      if (++month === MONTHS_PER_YEAR) {
        month = 0
        year++
      }
    }
    accounts.lostKwh[lane] = (accounts.lostKwh[lane] as number) + kwh
    accounts.lostKwhDiscounted[lane] = (accounts.lostKwhDiscounted[lane] as number) + kwhDiscounted
    accounts.outageEnergy[lane] = (accounts.outageEnergy[lane] as number) + value
  }

  /** O7: days that the battery does not earn, faded and without growth; T2 as for energy. */
  #loseBattery(share: number, from: number, to: number, accounts: Accounts, lane: number): void {
    const { battery, discount } = this.#terms
    if (battery === null) return
    const { fadeRate, valuePerDay } = battery
    const table = this.#byRule
    let year = Math.floor(from)
    let month = this.#monthOfYear(from - year)
    let days = 0
    for (let start = from; start < to; ) {
      const end = Math.min(to, year + (this.#monthStart[month + 1] as number)) // within the calendar
      const i = WIDTH * (MONTHS_PER_YEAR * year + month)
      const middle = (start + end) / 2
      const u = middle - (table[i + MIDDLE] as number)
      const present = (table[i + DISCOUNT] as number) * growthBy(discount.rate * u)
      const lost = share * DAYS_PER_YEAR * (end - start) * present * (fadeRate === 0 ? 1 : Math.exp(fadeRate * middle))
      days += lost
      accounts.presentByYear[year] = (accounts.presentByYear[year] as number) + valuePerDay * lost
      start = end
      if (++month === MONTHS_PER_YEAR) {
        month = 0
        year++
      }
    }
    accounts.batteryDays[lane] = (accounts.batteryDays[lane] as number) - days
    accounts.batteryOutage[lane] = (accounts.batteryOutage[lane] as number) + valuePerDay * days
  }

  /** Month of the model year at a moment within it: a guess by twelfths, off by one at most. */
  #monthOfYear(ofYear: number): number {
    const monthStart = this.#monthStart
    let month = Math.min(Math.floor(ofYear * MONTHS_PER_YEAR), MONTHS_PER_YEAR - 1)
    while (month > 0 && (monthStart[month] as number) > ofYear) month--
    while (month < MONTHS_PER_YEAR - 1 && (monthStart[month + 1] as number) <= ofYear) month++
    return month
  }

  #tableOf(share: number): Float64Array {
    const known = this.#byShare.get(share)
    if (known !== undefined) return known
    if (this.#byShare.size >= SHARES_KEPT) this.#byShare.clear()
    const made = this.#byRule.slice()
    tabulateShare(this.#supply, this.#terms, share, made)
    this.#byShare.set(share, made)
    return made
  }
}

/** The first four terms of e^x. */
function growthBy(x: number): number {
  return 1 + x * (1 + x * (1 / 2 + x / 6))
}

/** A series of four terms of the table. */
function series(table: Float64Array, i: number, u: number): number {
  const c0 = table[i] as number // within the table, as are the next three
  const c1 = table[i + 1] as number
  const c2 = table[i + 2] as number
  const c3 = table[i + 3] as number
  return c0 + u * (c1 + u * (c2 + u * c3))
}

/** Growth and discount of a rate in the middle of every month: products, 37 exponentials in place of hundreds. */
class MonthGrowth {
  readonly rate: number
  readonly #inYear: Float64Array
  readonly #ofYear: Float64Array

  constructor(rate: number, monthStart: Float64Array, years: number) {
    this.rate = rate
    this.#inYear = Float64Array.from({ length: MONTHS_PER_YEAR }, (_, month) =>
      Math.exp((rate * ((monthStart[month] ?? 0) + (monthStart[month + 1] ?? 1))) / 2),
    )
    this.#ofYear = Float64Array.from({ length: years }, (_, year) => Math.exp(rate * year))
  }

  at(year: number, monthOfYear: number): number {
    return (this.#ofYear[year] ?? 1) * (this.#inYear[monthOfYear] ?? 1)
  }
}

/** Adds a value that grows at a rate to a series. */
function addSeries(table: Float64Array, i: number, value: number, rate: number): void {
  table[i] = (table[i] as number) + value // within the table
  table[i + 1] = (table[i + 1] as number) + value * rate
  table[i + 2] = (table[i + 2] as number) + (value * rate * rate) / 2
  table[i + 3] = (table[i + 3] as number) + (value * rate * rate * rate) / 6
}

/** The table of rule C5, of which partial tables take the energy, discount and middle of each month. */
function tabulate(supply: EnergySupply, terms: OptionTerms): Float64Array {
  const { horizonYears, discount, energy } = terms
  const { monthStart, deliverableKwh } = supply
  const discounts = new MonthGrowth(discount.rate, monthStart, horizonYears)
  const imports = new MonthGrowth(energy.importGrowth.rate + discount.rate, monthStart, horizonYears)
  const exports =
    energy.exportGrowth.rate === energy.importGrowth.rate
      ? imports
      : new MonthGrowth(energy.exportGrowth.rate + discount.rate, monthStart, horizonYears)
  const table = new Float64Array(WIDTH * MONTHS_PER_YEAR * horizonYears)
  for (let monthOfYear = 0; monthOfYear < MONTHS_PER_YEAR; monthOfYear++) {
    const start = monthStart[monthOfYear] ?? 0
    const end = monthStart[monthOfYear + 1] ?? 1
    const s = energy.selfConsumed[monthOfYear] ?? 0
    // self-used part of a lost share f: s·(floor + (1 − floor)·f²)
    const floor = selfUsedFloor(s)
    for (let year = 0; year < horizonYears; year++) {
      const month = MONTHS_PER_YEAR * year + monthOfYear
      const i = WIDTH * month
      const kwh = (deliverableKwh[month] ?? 0) / (end - start)
      const imported = kwh * energy.importPrice * imports.at(year, monthOfYear)
      const exported = kwh * energy.exportPrice * exports.at(year, monthOfYear)
      table[i + KWH] = kwh
      table[i + DISCOUNT] = discounts.at(year, monthOfYear)
      table[i + MIDDLE] = year + (start + end) / 2
      addSeries(table, i + LINEAR, s * floor * imported, imports.rate)
      addSeries(table, i + LINEAR, (1 - s * floor) * exported, exports.rate)
      addSeries(table, i + CUBIC, s * (1 - floor) * imported, imports.rate)
      addSeries(table, i + CUBIC, -s * (1 - floor) * exported, exports.rate)
    }
  }
  return table
}

/** Energy and value of one share by the table of a known load, in place of those of rule C5. */
function tabulateShare(supply: EnergySupply, terms: OptionTerms, share: number, table: Float64Array): void {
  const { horizonYears, discount, energy } = terms
  const imports = new MonthGrowth(energy.importGrowth.rate + discount.rate, supply.monthStart, horizonYears)
  const exports = new MonthGrowth(energy.exportGrowth.rate + discount.rate, supply.monthStart, horizonYears)
  const part: LostShare = { lost: 0, selfUsed: 0 }
  for (let monthOfYear = 0; monthOfYear < MONTHS_PER_YEAR; monthOfYear++) {
    lostShareOf(supply, energy, monthOfYear, share, part)
    for (let year = 0; year < horizonYears; year++) {
      const i = WIDTH * (MONTHS_PER_YEAR * year + monthOfYear)
      const kwh = table[i + KWH] ?? 0
      table[i + KWH] = kwh * part.lost
      table.fill(0, i + LINEAR, i + WIDTH)
      addSeries(
        table,
        i + LINEAR,
        kwh * part.selfUsed * energy.importPrice * imports.at(year, monthOfYear),
        imports.rate,
      )
      const exported = kwh * (part.lost - part.selfUsed) * energy.exportPrice
      addSeries(table, i + LINEAR, exported * exports.at(year, monthOfYear), exports.rate)
    }
  }
}
