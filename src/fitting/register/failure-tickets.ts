import { NumberList } from './number-list.ts'

/** A ticket that is a failure. */
export interface FailureTicket {
  readonly line: number
  /** Days since 1970-01-01. */
  readonly day: number
  /** Day on which the ticket was closed, >= day; the day itself where none is given. */
  readonly closed: number
}

/** Tickets that are failures, by the name that they give: in columns of numbers, since there may be a million. */
export class FailureTickets implements Iterable<readonly [name: number, tickets: readonly FailureTicket[]]> {
  readonly #lines = new NumberList()
  readonly #names = new NumberList()
  readonly #days = new NumberList()
  readonly #closed = new NumberList()
  /** Tickets in order of their names; those of name n from `#first[n]` on. Made once all are added. */
  #order = new Int32Array(0)
  #first = new Int32Array(1)

  /** How many tickets. */
  get length(): number {
    return this.#lines.length
  }

  /**
   * Adds one, before any is looked up.
   *
   * @param name - number of its name, >= 0
   * @param ticket - in order of line
   */
  add(name: number, { line, day, closed }: FailureTicket): void {
    this.#names.push(name)
    this.#lines.push(line)
    this.#days.push(day)
    this.#closed.push(closed)
  }

  /** The tickets of a name, in order of day and line. */
  of(name: number): FailureTicket[] {
    this.#putInOrder()
    const tickets: FailureTicket[] = []
    for (let at = this.#first[name] ?? 0; at < (this.#first[name + 1] ?? 0); at++) {
      const t = this.#order[at] as number // within the list
      tickets.push({ line: this.#lines.at(t), day: this.#days.at(t), closed: this.#closed.at(t) })
    }
    return tickets.sort((a, b) => a.day - b.day || a.line - b.line)
  }

  /** The names that have any, with their tickets. */
  *[Symbol.iterator](): Generator<readonly [number, readonly FailureTicket[]]> {
    this.#putInOrder()
    for (let name = 0; name + 1 < this.#first.length; name++) {
      const tickets = this.of(name)
      if (tickets.length > 0) yield [name, tickets]
    }
  }

  #putInOrder(): void {
    if (this.#order.length === this.length) return
    let most = -1
    for (let t = 0; t < this.length; t++) most = Math.max(most, this.#names.at(t))
    const first = new Int32Array(most + 2)
    for (let t = 0; t < this.length; t++) first[this.#names.at(t) + 1] = (first[this.#names.at(t) + 1] as number) + 1
    for (let name = 0; name <= most; name++) first[name + 1] = (first[name + 1] as number) + (first[name] as number)
    const next = first.slice()
    this.#order = new Int32Array(this.length)
    for (let t = 0; t < this.length; t++) {
      const name = this.#names.at(t)
      const at = next[name] as number // every name has its place
      this.#order[at] = t
      next[name] = at + 1
    }
    this.#first = first
  }
}
