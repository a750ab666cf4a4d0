import { NumberList } from './number-list.ts'
import type { Listed } from './read-register.ts'

/** One unit's life as the files show it; days since 1970-01-01. */
export interface OwnerLife {
  readonly group: string
  /** Equal lives that it represents. */
  readonly count: number
  readonly place: string
  /** Number of the unit among those of a place that has several; 0 where it has one, and for those that never failed. */
  readonly slot: number
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

/** Lives in order of place and time. */
export interface OwnerLives extends Iterable<OwnerLife> {
  readonly length: number
}

/** How a life ended that did not fail. */
const ENDS = ['replaced without a ticket', 'retired', 'end of the watch'] as const

/** One life, as it is added. */
export interface NewLife {
  /** Row of the register it comes from, itself or as a successor. */
  readonly unit: Listed
  readonly place: string
  readonly slot: number
  readonly count: number
  readonly successor: boolean
  readonly from: number
  readonly watchedFrom: number | null
  readonly to: number
  /** Line of the ticket that ended it; or what else did. */
  readonly ended: number | (typeof ENDS)[number]
}

/** Lives in columns of numbers, since there may be hundreds of thousands; an object is made of one when it is needed. */
export class LifeList implements OwnerLives {
  readonly #units: Listed[] = []
  readonly #places: string[] = []
  readonly #from = new NumberList()
  readonly #watchedFrom = new NumberList()
  readonly #to = new NumberList()
  /** Line of the ticket; or −1 − index in `ENDS`. */
  readonly #ended = new NumberList()
  readonly #successor = new NumberList()
  readonly #slots = new NumberList()
  readonly #counts = new NumberList()

  /** How many. */
  get length(): number {
    return this.#units.length
  }

  /** Adds one after the others. */
  add({ unit, place, slot, count, successor, from, watchedFrom, to, ended }: NewLife): void {
    this.#units.push(unit)
    this.#places.push(place)
    this.#from.push(from)
    this.#watchedFrom.push(watchedFrom ?? FROM_THE_START)
    this.#to.push(to)
    this.#ended.push(typeof ended === 'number' ? ended : -1 - ENDS.indexOf(ended))
    this.#successor.push(successor ? 1 : 0)
    this.#slots.push(slot)
    this.#counts.push(count)
  }

  *[Symbol.iterator](): Generator<OwnerLife> {
    for (let i = 0; i < this.length; i++) yield this.#at(i)
  }

  #at(i: number): OwnerLife {
    const unit = this.#units[i] as Listed // within the list
    const ended = this.#ended.at(i)
    const successor = this.#successor.at(i) === 1
    const watchedFrom = this.#watchedFrom.at(i)
    return {
      group: unit.group,
      place: this.#places[i] ?? '',
      slot: this.#slots.at(i),
      count: this.#counts.at(i),
      serial: successor ? '' : unit.serial,
      batch: successor ? '' : unit.batch,
      from: this.#from.at(i),
      watchedFrom: watchedFrom === FROM_THE_START ? null : watchedFrom,
      to: this.#to.at(i),
      failed: ended >= 0,
      startSays: successor ? 'successor of the unit that failed' : `register line ${unit.line}`,
      endSays: ended >= 0 ? `failed: ticket of line ${ended}` : (ENDS[-1 - ended] ?? ''),
    }
  }
}

const FROM_THE_START = -2_147_483_648
