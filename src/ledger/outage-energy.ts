import type { History } from '../history/history.ts'
import type { Stretch } from '../history/lifetimes.ts'
import { DAYS_PER_YEAR, MONTHS_PER_YEAR } from '../units.ts'
import type { Accounts } from './accounts.ts'
import { batteryWeight } from './battery-earnings.ts'
import type { Claims } from './claims.ts'
import { DownShare } from './down-share.ts'
import { type LostEnergy, loseShare } from './energy-value.ts'
import { OutageWindows } from './outage-windows.ts'
import type { EnergySupply, OptionTerms } from './terms.ts'

// memory that serves again and again
const windows = new OutageWindows()
const down = new DownShare()
const lost: LostEnergy = { kwh: 0, value: 0 }
/** By population: how many of its units are down. */
let downUnits = new Int32Array(16)
/** Rows whose units are down at the moment in hand: a stretch of `open`, soonest end first. */
let open = new Int32Array(64)
let firstOpen = 0
let endOpen = 0
/** How many of them take their string down. */
let stringsTaken = 0
/** Rows of the lifetime in hand. */
let rows: { readonly history: History; readonly from: number; readonly to: number } | null = null
/** By string: failures that hold it down. */
let takenDown = new Int32Array(16)

/**
 * Enters the energy and battery value lost to outages into the accounts of some lifetimes (O1, O4–O7, C5): the third
 * stage of the ledger. Overlapping outages are not counted twice: at each moment the share lost is 1 − central
 * availability × mean panel-level availability. Most outages overlap with none, and are then a single stretch.
 *
 * @param stretch - the lifetimes
 * @param terms - of the option
 * @param supply - energy of the option
 * @param claims - from `decideClaims`: a claimed failure is down for `claim_days` more
 * @param accounts - added to
 */
export function loseOutages(
  { lifetimes, first, end }: Stretch,
  terms: OptionTerms,
  supply: EnergySupply,
  claims: Claims,
  accounts: Accounts,
): void {
  const { history, firstRow } = lifetimes
  if (terms.units.length > downUnits.length) downUnits = new Int32Array(2 * terms.units.length)
  for (let lifetime = first; lifetime < end; lifetime++) {
    const from = firstRow[lifetime] ?? 0
    const to = firstRow[lifetime + 1] ?? 0
    if (from === to) continue
    windows.open(history, from, to, terms, claims)
    rows = { history, from, to }
    for (let i = 0; i < windows.n; ) i = loseFrom(i, history, terms, supply, accounts, lifetime - first)
  }
}

/** Loses the window at a place and all that overlap it or one another; gives the place after them. */
function loseFrom(
  i: number,
  history: History,
  terms: OptionTerms,
  supply: EnergySupply,
  accounts: Accounts,
  account: number,
): number {
  const { order, start, end, n } = windows
  firstOpen = 0
  endOpen = 0
  stringsTaken = 0
  let next = i
  let at = start[order[i] ?? 0] ?? 0
  do {
    for (; next < n && (start[order[next] ?? 0] ?? 0) <= at; next++) openRow(history, order[next] ?? 0)
    const soonest = end[open[firstOpen] ?? 0] ?? Infinity
    const until = next < n ? Math.min(soonest, start[order[next] ?? 0] ?? Infinity) : soonest
    if (stringsTaken > 0) down.find(terms, downUnits, panelShareWithStrings(history, terms))
    else down.find(terms, downUnits)
    loseStretch(terms, supply, accounts, account, at, until)
    at = until
    for (; firstOpen < endOpen && (end[open[firstOpen] ?? 0] ?? 0) <= at; firstOpen++) {
      count(history, open[firstOpen] ?? 0, -1)
    }
  } while (firstOpen < endOpen)
  return next
}

/** Puts a row among those that are down, soonest end first. */
function openRow(history: History, row: number): void {
  if (endOpen >= open.length) open = grown(open)
  const { end } = windows
  const at = end[row] ?? 0
  let k = endOpen++
  for (; k > firstOpen && (end[open[k - 1] ?? 0] ?? 0) > at; k--) open[k] = open[k - 1] ?? 0
  open[k] = row
  count(history, row, 1)
}

function count(history: History, row: number, step: number): void {
  const place = history.place[row] ?? 0
  downUnits[place] = (downUnits[place] ?? 0) + step
  if (history.takesString[row] === 1) stringsTaken += step
}

/** O4: a string that is down loses all its panels; other failures on it lose nothing more. */
function panelShareWithStrings(history: History, terms: OptionTerms): number {
  const strings = terms.stringShares.length
  if (strings > takenDown.length) takenDown = new Int32Array(2 * strings)
  takenDown.fill(0, 0, strings)
  for (let k = firstOpen; k < endOpen; k++) {
    const row = open[k] ?? 0
    const string = history.string[row] ?? -1
    if (string >= 0 && history.takesString[row] === 1) takenDown[string] = 1
  }
  let share = 0
  for (let string = 0; string < strings; string++) {
    if (takenDown[string] === 1) share += terms.stringShares[string] ?? 0
  }
  for (let k = firstOpen; k < endOpen; k++) {
    const row = open[k] ?? 0
    const unit = terms.units[history.place[row] ?? 0]
    const string = history.string[row] ?? -1
    if (unit?.role !== 'panel-level' || (string >= 0 && takenDown[string] === 1)) continue
    share += unit.unitShare
  }
  return Math.min(share, 1)
}

/** One stretch in which nothing changes, month by month. */
function loseStretch(
  terms: OptionTerms,
  supply: EnergySupply,
  accounts: Accounts,
  account: number,
  from: number,
  to: number,
): void {
  const { generation } = down
  add(accounts.downYears, account, generation * (to - from))
  if (terms.battery?.backup) add(accounts.backupDownYears, account, down.backup * (to - from))
  if (generation === 0 && down.battery === 0) return
  const { battery } = terms
  const fadeRate = battery?.fadeRate ?? 0
  const weight = rows === null || down.battery === 0 ? 1 : batteryWeight(rows.history, rows.from, rows.to, terms, from)
  const daysPerYear = battery === null ? 0 : down.battery * weight * DAYS_PER_YEAR
  let year = Math.floor(from)
  let month = monthAt(supply.monthStart, from - year)
  let start = from
  let kwh = 0
  let kwhDiscounted = 0
  let energyValue = 0
  while (start < to) {
    const end = Math.min(to, year + (supply.monthStart[month + 1] ?? 1))
    if (end > start) {
      loseShare(supply, terms.energy, year * MONTHS_PER_YEAR + month, start, end, generation, lost)
      const discount = terms.discount.at((start + end) / 2)
      const value = lost.value * discount
      kwh += lost.kwh
      kwhDiscounted += lost.kwh * discount
      energyValue += value
      add(accounts.presentByYear, year, value)
      add(accounts.lostByMonthKwh, supply.calendarMonth[month] ?? 0, lost.kwh)
      if (battery !== null && daysPerYear > 0) {
        const left = fadeRate === 0 ? discount : discount * Math.exp((fadeRate * (start + end)) / 2)
        const days = daysPerYear * (end - start) * left
        add(accounts.batteryDays, account, -days)
        add(accounts.batteryOutage, account, battery.valuePerDay * days)
        add(accounts.presentByYear, year, battery.valuePerDay * days)
      }
      start = end
    }
    month++
    if (month === MONTHS_PER_YEAR) {
      month = 0
      year++
    }
  }
  add(accounts.lostKwh, account, kwh)
  add(accounts.lostKwhDiscounted, account, kwhDiscounted)
  add(accounts.outageEnergy, account, energyValue)
}

/** Month of the model year at a moment within it: a guess by twelfths, off by one at most. */
function monthAt(monthStart: Float64Array, ofYear: number): number {
  let month = Math.min(Math.floor(ofYear * MONTHS_PER_YEAR), MONTHS_PER_YEAR - 1)
  while (month > 0 && (monthStart[month] ?? 0) > ofYear) month--
  while (month < MONTHS_PER_YEAR - 1 && (monthStart[month + 1] ?? 1) <= ofYear) month++
  return month
}

function add(column: Float64Array, i: number, amount: number): void {
  column[i] = (column[i] ?? 0) + amount
}

function grown(rows: Int32Array): Int32Array<ArrayBuffer> {
  const larger = new Int32Array(2 * rows.length)
  larger.set(rows)
  return larger
}
