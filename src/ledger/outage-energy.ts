import { type History, PLANNED } from '../history/history.ts'
import { DAYS_PER_YEAR, MONTHS_PER_YEAR } from '../units.ts'
import type { Account } from './account.ts'
import { type Claims, NOT_CLAIMED } from './claims.ts'
import { type LostEnergy, loseShare } from './energy-value.ts'
import type { EnergySupply, OptionTerms } from './terms.ts'

/** Ends of outage windows in order of time; memory that serves draw after draw. */
let moments = new Float64Array(256)
let order = new Int32Array(256)
let windowEnd = new Float64Array(256)
let downUnits = new Int32Array(16)
/** By string: failures that hold it down. */
let takenDown = new Int32Array(16)
const lost: LostEnergy = { kwh: 0, value: 0 }

/**
 * Enters the energy and battery value lost to outages into an account (O1, O4–O7, C5). Overlapping outages are not
 * counted twice: at each moment the share lost is 1 − central availability × mean panel-level availability.
 *
 * @param history - of one draw
 * @param terms - of the option
 * @param supply - energy of the option
 * @param claims - from `decideClaims`: a claimed failure is down for `claim_days` more
 * @param account - added to
 */
export function loseOutages(
  history: History,
  terms: OptionTerms,
  supply: EnergySupply,
  claims: Claims,
  account: Account,
): void {
  const ends = openWindows(history, terms, claims)
  if (ends === 0) return
  sortMoments(ends)
  downUnits.fill(0, 0, terms.units.length)
  let stringsTaken = 0
  let from = moments[order[0] ?? 0] ?? 0
  for (let i = 0; i < ends; i++) {
    const end = order[i] ?? 0
    const at = moments[end] ?? 0
    if (at > from) {
      loseStretch(history, terms, supply, account, from, at, stringsTaken, i)
      from = at
    }
    const row = end >> 1
    const place = history.place[row] ?? 0
    const step = end & 1 ? -1 : 1
    downUnits[place] = (downUnits[place] ?? 0) + step
    if (history.takesString[row] === 1) stringsTaken += step
  }
}

/** Windows [failure, return + claim days], joined per slot and cut at the horizon; entry 2·row opens, 2·row + 1 closes. */
function openWindows(history: History, terms: OptionTerms, claims: Claims): number {
  const rows = history.nFailures
  if (2 * rows > moments.length) {
    moments = new Float64Array(4 * rows)
    order = new Int32Array(4 * rows)
    windowEnd = new Float64Array(4 * rows)
  }
  if (terms.units.length > downUnits.length) downUnits = new Int32Array(2 * terms.units.length)
  let ends = 0
  for (let row = 0; row < rows; row++) {
    const unit = terms.units[history.place[row] ?? 0]
    if (unit === undefined) continue
    const before = history.before[row] ?? -1
    const claimed = history.action[row] !== PLANNED && claims.parts[row] !== NOT_CLAIMED
    const start = Math.max(history.failedAt[row] ?? 0, before < 0 ? 0 : (windowEnd[before] ?? 0))
    const close = (history.returnedAt[row] ?? Infinity) + (claimed ? unit.claimYears : 0)
    const end = Math.min(Math.max(close, start), terms.horizonYears)
    windowEnd[row] = Math.max(end, before < 0 ? 0 : (windowEnd[before] ?? 0))
    if (unit.role === 'nothing' || end <= start) continue
    moments[2 * row] = start
    moments[2 * row + 1] = end
    order[ends++] = 2 * row
    order[ends++] = 2 * row + 1
  }
  return ends
}

/** In order of time; few entries as a rule, so by insertion, else by the library sort. */
function sortMoments(ends: number): void {
  if (ends > 64) {
    order.subarray(0, ends).sort((a, b) => (moments[a] ?? 0) - (moments[b] ?? 0) || a - b)
    return
  }
  for (let i = 1; i < ends; i++) {
    const end = order[i] ?? 0
    const at = moments[end] ?? 0
    let j = i - 1
    while (j >= 0 && (moments[order[j] ?? 0] ?? 0) > at) {
      order[j + 1] = order[j] ?? 0
      j--
    }
    order[j + 1] = end
  }
}

/** One stretch in which nothing changes, month by month. */
function loseStretch(
  history: History,
  terms: OptionTerms,
  supply: EnergySupply,
  account: Account,
  from: number,
  to: number,
  stringsTaken: number,
  past: number,
): void {
  const inverters = shareDown(terms, 'inverter')
  const panels = stringsTaken === 0 ? shareDown(terms, 'panel-level') : panelShareWithStrings(history, terms, past)
  const down = Math.min(1, 1 - (1 - inverters) * (1 - panels))
  account.downYears += down * (to - from)
  const batteryShare = terms.battery === null ? 0 : batteryDown(terms, inverters, panels)
  if (terms.battery?.backup) account.backupDownYears += backupDown(terms, inverters, panels) * (to - from)
  if (down === 0 && batteryShare === 0) return
  const valuePerYear = batteryShare * (terms.battery?.valuePerDay ?? 0) * DAYS_PER_YEAR
  let year = Math.floor(from)
  let month = monthAt(supply.monthStart, from - year)
  let start = from
  while (start < to) {
    const end = Math.min(to, year + (supply.monthStart[month + 1] ?? 1))
    if (end > start) {
      loseShare(supply, terms.energy, year * MONTHS_PER_YEAR + month, start, end, down, lost)
      const discount = Math.exp((-terms.logDiscount * (start + end)) / 2)
      const value = lost.value * discount
      const battery = valuePerYear * (end - start) * discount
      account.lostKwh += lost.kwh
      account.lostKwhDiscounted += lost.kwh * discount
      account.outageEnergy += value
      account.batteryOutage += battery
      account.present[year] = (account.present[year] ?? 0) + value + battery
      const calendarMonth = supply.calendarMonth[month] ?? 0
      account.lostByMonthKwh[calendarMonth] = (account.lostByMonthKwh[calendarMonth] ?? 0) + lost.kwh
      start = end
    }
    month++
    if (month === MONTHS_PER_YEAR) {
      month = 0
      year++
    }
  }
}

/** Month of the model year at a moment within it: a guess by twelfths, off by one at most. */
function monthAt(monthStart: Float64Array, ofYear: number): number {
  let month = Math.min(Math.floor(ofYear * MONTHS_PER_YEAR), MONTHS_PER_YEAR - 1)
  while (month > 0 && (monthStart[month] ?? 0) > ofYear) month--
  while (month < MONTHS_PER_YEAR - 1 && (monthStart[month + 1] ?? 1) <= ofYear) month++
  return month
}

function shareDown(terms: OptionTerms, role: 'inverter' | 'panel-level' | 'battery' | 'battery-inverter'): number {
  let share = 0
  for (let place = 0; place < terms.units.length; place++) {
    const unit = terms.units[place]
    if (unit !== undefined && unit.role === role) share += unit.unitShare * (downUnits[place] ?? 0)
  }
  return Math.min(share, 1)
}

/** O4: a string that is down loses all its panels; other failures on it lose nothing more. */
function panelShareWithStrings(history: History, terms: OptionTerms, past: number): number {
  const strings = terms.stringShares.length
  if (strings > takenDown.length) takenDown = new Int32Array(2 * strings)
  takenDown.fill(0, 0, strings)
  for (let i = 0; i < past; i++) {
    const end = order[i] ?? 0
    const string = history.string[end >> 1] ?? -1
    if (string >= 0 && history.takesString[end >> 1] === 1) {
      takenDown[string] = (takenDown[string] ?? 0) + (end & 1 ? -1 : 1)
    }
  }
  let share = 0
  for (let string = 0; string < strings; string++) {
    if ((takenDown[string] ?? 0) > 0) share += terms.stringShares[string] ?? 0
  }
  for (let i = 0; i < past; i++) {
    const end = order[i] ?? 0
    const unit = terms.units[history.place[end >> 1] ?? 0]
    const string = history.string[end >> 1] ?? -1
    if (unit?.role !== 'panel-level' || (string >= 0 && (takenDown[string] ?? 0) > 0)) continue
    share += end & 1 ? -unit.unitShare : unit.unitShare
  }
  return Math.min(Math.max(share, 0), 1)
}

/** Share of the sun's inverters that are down, wherever they sit (O7): optimisers are none. */
function sunDown(inverters: number, panels: number, terms: OptionTerms): number {
  const panelUnits = terms.units.some(unit => unit.role === 'inverter') ? 0 : panels
  return 1 - (1 - inverters) * (1 - panelUnits)
}

function batteryDown(terms: OptionTerms, inverters: number, panels: number): number {
  const works = (1 - shareDown(terms, 'battery')) * (1 - shareDown(terms, 'battery-inverter'))
  return 1 - works * (1 - (terms.battery?.lostWithoutSun ?? 0) * sunDown(inverters, panels, terms))
}

function backupDown(terms: OptionTerms, inverters: number, panels: number): number {
  const works = (1 - shareDown(terms, 'battery')) * (1 - shareDown(terms, 'battery-inverter'))
  return 1 - works * (terms.battery?.backupNeedsInverter ? 1 - sunDown(inverters, panels, terms) : 1)
}
