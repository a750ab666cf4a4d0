import type { History } from '../history/history.ts'
import { REPAIRED, type Rows } from '../history/rows.ts'
import { DAYS_PER_YEAR } from '../units.ts'
import type { Accounts } from './accounts.ts'
import type { OptionTerms, UnitTerms } from './terms.ts'

/**
 * Enters what the battery earns into the accounts of some lifetimes, from the start to the horizon whatever fails (O7);
 * what outages take of it is `batteryOutage`. A unit fades with its own age; a replacement starts new.
 *
 * @param history - the lifetimes
 * @param terms - of the option
 * @param accounts - added to
 */
export function earnBattery(history: History, terms: OptionTerms, accounts: Accounts): void {
  const { battery, horizonYears } = terms
  if (battery === null) return
  const untouched = weightAtStart(terms)
  for (let year = 0; year < horizonYears; year++) {
    earn(accounts, 0, history.n, battery.valuePerDay, untouched * daysBetween(terms, year, year + 1), year)
  }
  if (battery.fadeRate === 0) return
  terms.units.forEach((unit, place) => {
    const rows = history.rows[place]
    if (unit.role !== 'battery' || rows === undefined) return
    for (let row = 0; row < rows.n; row++) {
      const at = rows.returnedAt[row] ?? Infinity
      if (at >= horizonYears) continue
      const weight = renewedWeight(rows, row, unit, battery.fadeRate)
      if (weight === 0) continue
      const lane = rows.lane[row] ?? 0
      for (let year = Math.floor(at); year < horizonYears; year++) {
        const days = weight * daysBetween(terms, Math.max(at, year), year + 1)
        earn(accounts, lane, lane + 1, battery.valuePerDay, days, year)
      }
    }
  })
}

function earn(accounts: Accounts, from: number, to: number, valuePerDay: number, days: number, year: number): void {
  const amount = valuePerDay * days
  for (let i = from; i < to; i++) {
    accounts.batteryDays[i] = (accounts.batteryDays[i] ?? 0) + days
    accounts.batteryEarnings[i] = (accounts.batteryEarnings[i] ?? 0) + amount
  }
  accounts.presentByYear[year] = (accounts.presentByYear[year] ?? 0) - (to - from) * amount
}

/** Increase of the share of the new value that a slot gives once its battery is replaced; 0 after a repair. */
function renewedWeight(rows: Rows, row: number, unit: UnitTerms, fadeRate: number): number {
  if (rows.action[row] === REPAIRED) return 0
  const fitted = rows.fittedAt[row] ?? 0
  const before = fitted > 0 ? fitted : -unit.ageYears
  return unit.unitShare * (Math.exp(-fadeRate * (rows.returnedAt[row] ?? 0)) - Math.exp(-fadeRate * before))
}

/** Present value of 1 a day that fades from the start, between two moments: the integral of its discounted worth. */
function daysBetween(terms: OptionTerms, from: number, to: number): number {
  const rate = terms.discount.rate + (terms.battery?.fadeRate ?? 0)
  const years = rate === 0 ? to - from : (Math.exp(rate * from) * Math.expm1(rate * (to - from))) / rate
  return DAYS_PER_YEAR * years
}

/**
 * Share of their value when new that the batteries of an option give at the start.
 *
 * @param terms - of the option; a battery that is no component is one new unit
 * @returns (0, 1]
 */
function weightAtStart(terms: OptionTerms): number {
  const fadeRate = terms.battery?.fadeRate ?? 0
  if (fadeRate === 0) return 1
  let share = 0
  let weight = 0
  for (const { role, unitShare, count, ageYears } of terms.units) {
    if (role !== 'battery') continue
    share += unitShare * count
    weight += unitShare * count * Math.exp(fadeRate * ageYears)
  }
  return share > 0 ? weight / share : 1
}

/**
 * Share of their value when new that the batteries of some lifetimes give at any moment, divided by exp(`fadeRate` ×
 * moment), as `earnBattery` counts it. The memory is reused.
 */
export class BatteryFade {
  #start = 1
  /** By lane: its latest replacement of a battery, or −1; by replacement: the one before it, its moment, its weight. */
  #head: Int32Array | null = null
  #next: number[] = []
  #at: number[] = []
  #weight: number[] = []

  /**
   * Loads some lifetimes.
   *
   * @param history - the lifetimes
   * @param terms - of the option
   */
  begin(history: History, terms: OptionTerms): void {
    const fadeRate = terms.battery?.fadeRate ?? 0
    this.#start = weightAtStart(terms)
    this.#head = null
    if (fadeRate === 0) return
    const head = new Int32Array(history.n).fill(-1)
    this.#head = head
    this.#next = []
    this.#at = []
    this.#weight = []
    terms.units.forEach((unit, place) => {
      const rows = history.rows[place]
      if (unit.role !== 'battery' || rows === undefined) return
      for (let row = 0; row < rows.n; row++) {
        const lane = rows.lane[row] ?? 0
        this.#next.push(head[lane] ?? -1)
        this.#at.push(rows.returnedAt[row] ?? Infinity)
        head[lane] = this.#weight.push(renewedWeight(rows, row, unit, fadeRate)) - 1
      }
    })
  }

  /**
   * The weight in a lifetime.
   *
   * @param lane - the lifetime
   * @param at - moment, years
   * @returns 1 where nothing fades
   */
  weightAt(lane: number, at: number): number {
    let weight = this.#start
    if (this.#head === null) return weight
    for (let i = this.#head[lane] ?? -1; i >= 0; i = this.#next[i] ?? -1) {
      if ((this.#at[i] ?? Infinity) <= at) weight += this.#weight[i] ?? 0
    }
    return weight
  }
}
