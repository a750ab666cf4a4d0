import type { RegisterPlace, Target } from './places.ts'
import type { Listed } from './read-register.ts'
import type { FailureTicket } from './read-tickets.ts'

/** One unit's life as the files tell it; days since 1970-01-01. */
export interface OwnerLife {
  readonly group: string
  readonly place: string
  readonly serial: string
  readonly batch: string
  readonly from: number
  /** Day from which it was watched; null: from the start. */
  readonly watchedFrom: number | null
  readonly to: number
  readonly failed: boolean
  /** Where the two days come from, in words. */
  readonly startSays: string
  readonly endSays: string
}

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

/** What was decided on the way, each a count. */
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
 * @param failures - by number of the name
 * @param settings - see `LifeSettings`
 * @returns lives in order of place and time, and the counts; every failure is in exactly one count
 */
export function livesOf(
  places: readonly RegisterPlace[],
  targets: readonly Target[],
  failures: ReadonlyMap<number, readonly FailureTicket[]>,
  settings: LifeSettings,
): { lives: OwnerLife[]; counts: LifeCounts } {
  const counts = noCounts()
  const ofPlace = new Map<number, { readonly unit: number; readonly ticket: FailureTicket }[]>()
  for (const [number, tickets] of failures) {
    const target = targets[number]
    if (target === undefined) continue
    const own = ofPlace.get(target.place) ?? []
    for (const ticket of tickets) {
      if (ticket.day > settings.watchEnds) counts.ticketAfterWatch++
      else if (settings.since !== null && ticket.day <= settings.since) counts.ticketBeforeSince++
      else own.push({ unit: target.unit, ticket })
    }
    ofPlace.set(target.place, own)
  }
  const lives: OwnerLife[] = []
  places.forEach((place, index) => {
    const units = place.units.filter(unit => unit.inService <= settings.watchEnds)
    counts.unitAfterWatch += place.units.length - units.length
    const tickets = assigned(units, ofPlace.get(index) ?? [], counts)
    new PlaceWalk(place.name, units, tickets, settings, counts, lives).walk()
  })
  return { lives, counts }
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

/** Goes through the units of one place in order of time. */
class PlaceWalk {
  readonly #name: string
  readonly #units: readonly Listed[]
  readonly #tickets: readonly UnitTicket[][]
  readonly #settings: LifeSettings
  readonly #counts: LifeCounts
  readonly #lives: OwnerLife[]
  /** Last day of the last outage; joins what follows closely. */
  #outageEnds = -Infinity

  constructor(
    name: string,
    units: readonly Listed[],
    tickets: readonly UnitTicket[][],
    settings: LifeSettings,
    counts: LifeCounts,
    lives: OwnerLife[],
  ) {
    this.#name = name
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
      this.#add(unit, successors, from, Math.min(ticket.day, end), true, `failed: ticket of line ${ticket.line}`)
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
    else if (end === unit.retired) this.#counts.unitRetired++
    const says = replaced ? 'replaced without a ticket' : end === unit.retired ? 'retired' : 'end of the watch'
    this.#add(unit, successors, from, end, false, says)
  }

  #add(unit: Listed, successors: number, from: number, to: number, failed: boolean, endSays: string): void {
    const { since } = this.#settings
    if (since !== null && to <= since) {
      this.#counts.lifeBeforeSince++
      return
    }
    this.#lives.push({
      group: unit.group,
      place: this.#name,
      serial: successors === 0 ? unit.serial : '',
      batch: successors === 0 ? unit.batch : '',
      from,
      watchedFrom: since !== null && from < since ? since : null,
      to,
      failed,
      startSays: successors === 0 ? `register line ${unit.line}` : 'successor of the unit that failed',
      endSays,
    })
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
  }
}
