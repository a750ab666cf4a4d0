import { type History, REPAIRED } from '../history/history.ts'
import type { Stretch } from '../history/lifetimes.ts'
import { DAYS_PER_YEAR } from '../units.ts'
import type { Accounts } from './accounts.ts'
import type { OptionTerms } from './terms.ts'

/**
 * Enters what the battery earns into the accounts of some lifetimes, from the start to the horizon whatever fails (O7);
 * what of it outages take is `batteryOutage`. A unit fades with its own age, anew after its replacement.
 *
 * @param stretch - the lifetimes
 * @param terms - of the option
 * @param accounts - added to
 */
export function earnBattery({ lifetimes, first, end }: Stretch, terms: OptionTerms, accounts: Accounts): void {
  const { battery } = terms
  if (battery === null) return
  const { history, firstRow } = lifetimes
  const untouched = weightAtStart(terms)
  const n = end - first
  for (let year = 0; year < terms.horizonYears; year++) {
    earn(accounts, 0, n, battery.valuePerDay, untouched * daysBetween(terms, year, year + 1), year)
  }
  if (battery.fadeRate === 0) return
  for (let i = 0; i < n; i++) {
    const to = firstRow[first + i + 1] ?? 0
    for (let row = firstRow[first + i] ?? 0; row < to; row++) {
      const at = history.returnedAt[row] ?? Infinity
      if (at >= terms.horizonYears) continue
      const weight = renewedWeight(history, row, terms)
      if (weight === 0) continue
      for (let year = Math.floor(at); year < terms.horizonYears; year++) {
        earn(accounts, i, i + 1, battery.valuePerDay, weight * daysBetween(terms, Math.max(at, year), year + 1), year)
      }
    }
  }
}

function earn(accounts: Accounts, from: number, to: number, valuePerDay: number, days: number, year: number): void {
  const amount = valuePerDay * days
  for (let i = from; i < to; i++) {
    accounts.batteryDays[i] = (accounts.batteryDays[i] ?? 0) + days
    accounts.batteryEarnings[i] = (accounts.batteryEarnings[i] ?? 0) + amount
  }
  accounts.presentByYear[year] = (accounts.presentByYear[year] ?? 0) - (to - from) * amount
}

/** How much more of the new value a row's slot gives once its battery is replaced; 0 for all other rows. */
function renewedWeight(history: History, row: number, terms: OptionTerms): number {
  const unit = terms.units[history.place[row] ?? 0]
  if (unit?.role !== 'battery' || history.action[row] === REPAIRED) return 0
  const fadeRate = terms.battery?.fadeRate ?? 0
  const fitted = history.fittedAt[row] ?? 0
  const before = fitted > 0 ? fitted : -unit.ageYears
  return unit.unitShare * (Math.exp(-fadeRate * (history.returnedAt[row] ?? 0)) - Math.exp(-fadeRate * before))
}

/** Present value of 1 a day that fades from the start, between two moments: the integral of its discounted worth. */
function daysBetween(terms: OptionTerms, from: number, to: number): number {
  const rate = terms.discount.rate + (terms.battery?.fadeRate ?? 0)
  const years = rate === 0 ? to - from : (Math.exp(rate * from) * Math.expm1(rate * (to - from))) / rate
  return DAYS_PER_YEAR * years
}

/**
 * Share of the new value that the batteries of an option give, brought back to the start by their fading, while none has
 * been replaced.
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
 * The same at a moment of a lifetime: share of the new value × exp(−fading × moment).
 *
 * @param history - rows of the lifetime
 * @param from - first of them
 * @param to - after the last
 * @param terms - of the option
 * @param at - moment, years
 * @returns 1 where nothing fades
 */
export function batteryWeight(history: History, from: number, to: number, terms: OptionTerms, at: number): number {
  let weight = weightAtStart(terms)
  if ((terms.battery?.fadeRate ?? 0) === 0) return weight
  for (let row = from; row < to; row++) {
    if ((history.returnedAt[row] ?? Infinity) <= at) weight += renewedWeight(history, row, terms)
  }
  return weight
}
