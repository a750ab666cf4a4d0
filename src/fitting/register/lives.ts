import type { FailureTicket, FailureTickets } from './failure-tickets.ts'
import { LifeList, type NewLife, type OwnerLives } from './life-list.ts'
import type { RegisterPlace, Target } from './places.ts'
import type { Listed } from './read-register.ts'

/** How lives are made. */
export interface LifeSettings {
  /** Last day of the watch. */
  readonly watchEnds: number
  /** Tickets up to this day are not used and units are watched from then on; null: from the start. */
  readonly since: number | null
  /** Tickets of one unit no further apart than this are one outage. */
  readonly gapDays: number
  /** Names are those of places, where a failed unit has a successor, or of units, which fail once. */
  readonly unitsAre: 'places' | 'serials'
}

/** Numbers of the decisions that were made. */
export interface LifeCounts {
  ticketAfterWatch: number
  ticketBeforeSince: number
  ticketBeforeInService: number
  ticketNoneInService: number
  ticketSameOutage: number
  ticketFailure: number
  /** Of the failures: dated up to the gap after the unit was replaced or retired. */
  ticketLate: number
  unitAfterWatch: number
  unitRetired: number
  successorStarted: number
  successorListed: number
  noSuccessor: number
  replacedWithoutTicket: number
  lifeBeforeSince: number
  /** Places that have several units at once. */
  placeOfSeveral: number
}

/** Days within which a unit of the register counts as the successor of one that failed (ours: nine in ten repairs are
 * over in some fifty days). */
const SUCCESSOR_WITHIN_DAYS = 90

/** Tickets of one unit of a place. */
interface UnitTicket extends FailureTicket {
  /** The ticket names the unit itself and not its place. */
  readonly named: boolean
}

/**
 * Makes lives from the units and the failures of each place. A failure ends the unit in the place on that day. What
 * follows it is the next unit that the register has for the place, if it comes within ninety days; else a successor is
 * started where the outage ends, as long as names are those of places.
 *
 * @param places - with their units
 * @param targets - what each name means
 * @param failures - by the number of the name
 * @param settings - see `LifeSettings`
 * @returns lives in order of place and time, and the counts; every failure is in exactly one count
 */
export function livesOf(
  places: readonly RegisterPlace[],
  targets: readonly Target[],
  failures: FailureTickets,
  settings: LifeSettings,
): { lives: OwnerLives; counts: LifeCounts } {
  const counts = noCounts()
  const lives = new LifeList()
  const named = namesOf(places, targets)
  places.forEach((place, index) => {
    const units = place.units.filter(unit => unit.inService <= settings.watchEnds)
    counts.unitAfterWatch += place.units.length - units.length
    const own = (named[index] ?? []).flatMap(name => {
      const unit = targets[name]?.unit ?? -1
      return failures.of(name).flatMap(ticket => (isWatched(ticket, settings, counts) ? { unit, ticket } : []))
    })
    const tickets = assigned(units, own, counts)
    if (units.some(({ count }) => count > 1)) walkSlots(place.name, units, tickets, settings, counts, lives)
    else new PlaceWalk({ name: place.name, slot: 0 }, units, tickets, settings, counts, lives).walk()
  })
  return { lives, counts }
}

/** By place: the numbers of the names that mean it or a unit in it. */
function namesOf(places: readonly RegisterPlace[], targets: readonly Target[]): number[][] {
  const names: number[][] = places.map(() => [])
  for (const [name, { place }] of targets.entries()) names[place]?.push(name)
  return names
}

function isWatched({ day }: FailureTicket, { watchEnds, since }: LifeSettings, counts: LifeCounts): boolean {
  if (day > watchEnds) counts.ticketAfterWatch++
  else if (since !== null && day <= since) counts.ticketBeforeSince++
  else return true
  return false
}

/** Gives each ticket to the unit that it names, or to the one last installed by its day. */
function assigned(
  units: readonly Listed[],
  tickets: readonly { readonly unit: number; readonly ticket: FailureTicket }[],
  counts: LifeCounts,
): UnitTicket[][] {
  const own: UnitTicket[][] = units.map(() => [])
  for (const { unit, ticket } of tickets) {
    const at = unit >= 0 ? unit : units.findLastIndex(one => one.inService <= ticket.day)
    const owner = units[at]
    if (owner === undefined || ticket.day < owner.inService) counts.ticketBeforeInService++
    else own[at]?.push({ ...ticket, named: unit >= 0 })
  }
  for (const list of own) list.sort((a, b) => a.day - b.day || a.line - b.line)
  return own
}

/**
 * Goes through rows of several units each. Tickets name the place alone, so which unit failed is not known:
 * each outage is taken to be of one that has not failed yet, and of the one that failed longest ago once all have. As
 * long as few have failed that is hardly ever wrong.
 */
function walkSlots(
  name: string,
  units: readonly Listed[],
  tickets: readonly (readonly UnitTicket[])[],
  settings: LifeSettings,
  counts: LifeCounts,
  lives: LifeList,
): void {
  counts.placeOfSeveral++
  for (const [index, listed] of units.entries()) {
    const next = units[index + 1]?.inService ?? Infinity
    const unit = { ...listed, retired: Math.min(listed.retired, next) }
    const slots: UnitTicket[][] = []
    let outages = 0
    let outageEnds = -Infinity
    for (const ticket of tickets[index] ?? []) {
      const slot = (ticket.day <= outageEnds + settings.gapDays ? outages - 1 : outages++) % unit.count
      outageEnds = Math.max(outageEnds, ticket.closed)
      slots[slot] ??= []
      slots[slot]?.push(ticket)
    }
    for (const [slot, own] of slots.entries()) {
      new PlaceWalk({ name, slot: slot + 1 }, [{ ...unit, count: 1 }], [own], settings, counts, lives).walk()
    }
    if (slots.length === unit.count) continue
    const rest = { ...unit, count: unit.count - slots.length }
    new PlaceWalk({ name, slot: 0 }, [rest], [[]], settings, counts, lives).walk()
  }
}

/** A place, or one of the several units in it. */
interface Where {
  readonly name: string
  /** 0: the place has one unit, or it is of those that never failed. */
  readonly slot: number
}

/** Goes through the units of one place in order of time. */
class PlaceWalk {
  readonly #where: Where
  readonly #units: readonly Listed[]
  readonly #tickets: readonly UnitTicket[][]
  readonly #settings: LifeSettings
  readonly #counts: LifeCounts
  readonly #lives: LifeList
  /** Last day of the last outage; tickets soon after it are joined to it. */
  #outageEnds = -Infinity

  constructor(
    where: Where,
    units: readonly Listed[],
    tickets: readonly UnitTicket[][],
    settings: LifeSettings,
    counts: LifeCounts,
    lives: LifeList,
  ) {
    this.#where = where
    this.#units = units
    this.#tickets = tickets
    this.#settings = settings
    this.#counts = counts
    this.#lives = lives
  }

  walk(): void {
    for (const [index, unit] of this.#units.entries()) this.#walkUnit(unit, index)
  }

  #walkUnit(unit: Listed, index: number): void {
    const { gapDays, watchEnds, unitsAre } = this.#settings
    const next = this.#units[index + 1]
    const end = Math.min(unit.retired, next?.inService ?? Infinity, watchEnds)
    const own = this.#tickets[index] ?? []
    const following = this.#tickets[index + 1] ?? []
    let from = unit.inService
    let successors = 0
    let working = true
    const replaced = next !== undefined && end === next.inService
    // Tickets of the place soon after the next unit went in are still about this one, unless it has failed already.
    const take = (): UnitTicket | null => {
      if (own.length > 0) return own.shift() ?? null
      const ticket = following[0]
      const late = ticket !== undefined && !ticket.named && ticket.day <= end + gapDays
      return late && replaced && working ? (following.shift() ?? null) : null
    }
    for (let ticket = take(); ticket !== null; ticket = take()) {
      if (!ticket.named || index === 0 || successors > 0 || !working) {
        if (ticket.day <= this.#outageEnds + gapDays) {
          this.#counts.ticketSameOutage++
          this.#outageEnds = Math.max(this.#outageEnds, ticket.closed)
          if (working && successors > 0) from = Math.max(from, Math.min(this.#outageEnds, end))
          continue
        }
      }
      if (!working || ticket.day > end + gapDays) {
        this.#counts.ticketNoneInService++
        continue
      }
      this.#counts.ticketFailure++
      if (ticket.day > end) this.#counts.ticketLate++
      this.#add(unit, successors, from, Math.min(ticket.day, end), ticket.line)
      const listed = next !== undefined && next.inService <= ticket.closed + SUCCESSOR_WITHIN_DAYS
      // With a successor in the register the outage lasts until it is in.
      this.#outageEnds = listed ? Math.max(ticket.closed, next.inService) : ticket.closed
      const goesOn = end - ticket.closed > (end === unit.retired ? gapDays : 0)
      if (unitsAre === 'places' && !listed && goesOn) {
        from = ticket.closed
        successors++
        this.#counts.successorStarted++
      } else {
        working = false
        if (listed) this.#counts.successorListed++
        else this.#counts.noSuccessor++
      }
    }
    if (!working) return
    if (replaced) this.#counts.replacedWithoutTicket++
    else if (end === unit.retired) this.#counts.unitRetired += unit.count
    const says = replaced ? 'replaced without a ticket' : end === unit.retired ? 'retired' : 'end of the watch'
    this.#add(unit, successors, from, end, says)
  }

  #add(unit: Listed, successors: number, from: number, to: number, ended: NewLife['ended']): void {
    const { since } = this.#settings
    if (since !== null && to <= since) {
      this.#counts.lifeBeforeSince += unit.count
      return
    }
    const watchedFrom = since !== null && from < since ? since : null
    const { name: place, slot } = this.#where
    this.#lives.add({ unit, place, slot, count: unit.count, successor: successors > 0, from, watchedFrom, to, ended })
  }
}

function noCounts(): LifeCounts {
  return {
    ticketAfterWatch: 0,
    ticketBeforeSince: 0,
    ticketBeforeInService: 0,
    ticketNoneInService: 0,
    ticketSameOutage: 0,
    ticketFailure: 0,
    ticketLate: 0,
    unitAfterWatch: 0,
    unitRetired: 0,
    successorStarted: 0,
    successorListed: 0,
    noSuccessor: 0,
    replacedWithoutTicket: 0,
    lifeBeforeSince: 0,
    placeOfSeveral: 0,
  }
}
