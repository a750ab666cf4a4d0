import type { History } from '../../history/history.ts'
import { FIRST_ROOM } from '../../numerics/first-room.ts'
import type { Accounts } from '../accounts.ts'
import { BatteryFade } from '../battery-earnings.ts'
import type { Claims } from '../claims.ts'
import type { OptionTerms } from '../terms.ts'
import { DownShare } from './down-share.ts'
import type { EnergyTables } from './energy-tables.ts'
import { OutageWindows } from './outage-windows.ts'
import { Spells } from './spells.ts'

/**
 * Enters the energy and battery value lost to outages into accounts (O1, O4–O7, C5): the third stage of the ledger.
 * Overlapping outages are not counted twice: at each moment the share lost is 1 − central availability × mean
 * panel-level availability. Most outages overlap no other and are a single spell. The memory is reused.
 */
export class Outages {
  readonly windows = new OutageWindows()
  readonly #down = new DownShare()
  readonly #fade = new BatteryFade()
  readonly #spells = new Spells()
  /** By population: what is down while one of its units alone is. */
  readonly #alone: DownShare[] = []
  // what overlaps: windows in the order in which they end, the closed ones first; what is down at the present moment:
  // units by population, and failures that take a string down
  #open = new Int32Array(FIRST_ROOM)
  #units = new Int32Array(FIRST_ROOM)
  #stringsTaken = 0
  /** Value lost in the spells that are not entered into accounts. */
  #worth = 0
  #taken = new Uint8Array(FIRST_ROOM)

  /**
   * Finds the outages of all lifetimes and enters what they lose.
   *
   * @param history - the lifetimes
   * @param terms - of the option
   * @param tables - of its energy
   * @param claims - by population
   * @param accounts - added to
   */
  lose(
    history: History,
    terms: OptionTerms,
    tables: EnergyTables,
    claims: readonly Claims[],
    accounts: Accounts,
  ): void {
    const { windows } = this
    windows.find(history, terms, claims)
    this.#begin(terms)
    this.#fade.begin(history, terms)
    this.#spells.clear()
    for (let lane = 0; lane < history.n; lane++) {
      const from = windows.first[lane] as number // every lane has its entries
      const to = windows.first[lane + 1] as number
      this.#loseWindows(history, terms, tables, lane, accounts, from, to)
    }
    tables.loseSpells(this.#spells, accounts)
  }

  /**
   * What some outages of one lifetime lose under other claims; they overlap no others, whatever is claimed.
   *
   * @param history - the lifetimes, as given to `lose`
   * @param terms - of the option, as given to `lose`
   * @param tables - of its energy
   * @param claims - by population
   * @param lane - the lifetime
   * @param from - the first of its windows
   * @param to - the one after the last
   * @returns present value
   */
  lossAnew(
    history: History,
    terms: OptionTerms,
    tables: EnergyTables,
    claims: readonly Claims[],
    lane: number,
    from: number,
    to: number,
  ): number {
    const anew = this.windows.findAnew(history, terms, claims, from, to)
    this.#worth = 0
    this.#loseWindows(history, terms, tables, lane, null, anew, anew + to - from)
    return this.#worth
  }

  /**
   * What one unit loses while all others work.
   *
   * @param tables - energy of the option
   * @param place - population of the unit
   * @param lane - the lifetime
   * @param from - start, years
   * @param to - end, years
   * @returns present value
   */
  lossAlone(tables: EnergyTables, place: number, lane: number, from: number, to: number): number {
    const down = this.#alone[place] ?? this.#down
    return tables.worth(down, this.#weightOf(down, lane, from), from, to)
  }

  /** Enters a spell; without accounts, only adds its value to `#worth`. */
  #loseSpell(
    tables: EnergyTables,
    down: DownShare,
    lane: number,
    from: number,
    to: number,
    accounts: Accounts | null,
  ): void {
    const weight = this.#weightOf(down, lane, from)
    if (accounts === null) {
      this.#worth += tables.worth(down, weight, from, to)
      return
    }
    const { generation, battery, backup } = down
    this.#spells.add(lane, from, to, generation)
    if (battery > 0) tables.loseBattery(battery * weight, from, to, accounts, lane)
    if (backup > 0) accounts.backupDownYears[lane] = (accounts.backupDownYears[lane] as number) + backup * (to - from)
  }

  #weightOf(down: DownShare, lane: number, at: number): number {
    return down.battery === 0 ? 0 : this.#fade.weightAt(lane, at)
  }

  #begin(terms: OptionTerms): void {
    const { units, stringShares } = terms
    this.#down.begin(terms)
    if (this.#units.length < units.length) this.#units = new Int32Array(2 * units.length)
    if (this.#taken.length < stringShares.length) this.#taken = new Uint8Array(2 * stringShares.length)
    while (this.#alone.length < units.length) this.#alone.push(new DownShare())
    for (let place = 0; place < units.length; place++) {
      const alone = this.#alone[place]
      this.#units[place] = 1
      alone?.begin(terms)
      alone?.find(this.#units)
      this.#units[place] = 0
    }
  }

  /** Windows [from, to) of one lifetime, soonest first. */
  #loseWindows(
    history: History,
    terms: OptionTerms,
    tables: EnergyTables,
    lane: number,
    accounts: Accounts | null,
    from: number,
    to: number,
  ): void {
    const { start, end, place, row } = this.windows
    for (let i = from; i < to; ) {
      const until = end[i] as number // all are there
      if (i + 1 < to && (start[i + 1] as number) < until) {
        i = this.#loseTogether(history, terms, tables, lane, accounts, i, to)
        continue
      }
      const own = place[i] as number
      if (until > (start[i] as number)) {
        if (history.rows[own]?.takesString[row[i] as number] === 1) {
          this.#loseTogether(history, terms, tables, lane, accounts, i, i + 1)
        } else this.#loseSpell(tables, this.#alone[own] as DownShare, lane, start[i] as number, until, accounts)
      }
      i++
    }
  }

  /** Enters a window and all that overlap it or one another, spell by spell; returns the place after them. */
  #loseTogether(
    history: History,
    terms: OptionTerms,
    tables: EnergyTables,
    lane: number,
    accounts: Accounts | null,
    window: number,
    to: number,
  ): number {
    const { start, end } = this.windows
    let next = window
    let at = start[window] as number // all are there
    let closed = 0
    let opened = 0
    do {
      for (; next < to && (start[next] as number) <= at; next++) {
        this.#insert(closed, opened++, next)
        this.#count(history, next, 1)
      }
      const soonest = end[this.#open[closed] as number] as number
      const until = next < to ? Math.min(soonest, start[next] as number) : soonest
      if (until > at) {
        if (this.#stringsTaken > 0) this.#down.find(this.#units, this.#panelShare(history, terms, closed, opened))
        else this.#down.find(this.#units)
        this.#loseSpell(tables, this.#down, lane, at, until, accounts)
      }
      at = until
      for (; closed < opened && (end[this.#open[closed] as number] as number) <= at; closed++) {
        this.#count(history, this.#open[closed] as number, -1)
      }
    } while (closed < opened)
    return next
  }

  /** Puts a window among the open ones, which are [closed, opened) of the list, soonest end first. */
  #insert(closed: number, opened: number, window: number): void {
    const { end } = this.windows
    if (opened === this.#open.length) {
      const larger = new Int32Array(2 * opened)
      larger.set(this.#open)
      this.#open = larger
    }
    const open = this.#open
    const at = end[window] as number // all are there
    let k = opened
    for (; k > closed && (end[open[k - 1] as number] as number) > at; k--) open[k] = open[k - 1] as number
    open[k] = window
  }

  #count(history: History, window: number, step: number): void {
    const place = this.windows.place[window] as number // the window is there
    this.#units[place] = (this.#units[place] as number) + step
    if (history.rows[place]?.takesString[this.windows.row[window] as number] === 1) this.#stringsTaken += step
  }

  /** O4: a string that is down loses all its panels; other failures on it lose nothing more. */
  #panelShare(history: History, { units, stringShares }: OptionTerms, closed: number, opened: number): number {
    const { place, row } = this.windows
    const taken = this.#taken
    taken.fill(0, 0, stringShares.length)
    for (let k = closed; k < opened; k++) {
      const window = this.#open[k] as number // open, and so there
      const rows = history.rows[place[window] as number]
      const own = row[window] as number
      if (rows?.takesString[own] === 1) taken[rows.string[own] as number] = 1
    }
    let share = 0
    for (let string = 0; string < stringShares.length; string++) {
      if (taken[string] === 1) share += stringShares[string] ?? 0
    }
    for (let k = closed; k < opened; k++) {
      const window = this.#open[k] as number
      const population = place[window] as number
      const unit = units[population]
      if (unit?.role !== 'panel-level') continue
      const string = history.rows[population]?.string[row[window] as number] ?? -1
      if (string < 0 || taken[string] !== 1) share += unit.unitShare
    }
    return Math.min(share, 1)
  }
}
