import { FIRST_ROOM } from '../numerics/first-room.ts'

/** Future events, soonest first; each is a row and the moment of its failure or planned replacement. */
export class PendingEvents {
  /** Entries from `first` to `end` are pending. */
  first = 0
  end = 0
  at = new Float64Array(FIRST_ROOM)
  place = new Int32Array(FIRST_ROOM)
  row = new Int32Array(FIRST_ROOM)

  /** Empties it. */
  clear(): void {
    this.first = 0
    this.end = 0
  }

  /** Inserts an event after those that are no later. */
  insert(at: number, place: number, row: number): void {
    if (this.end === this.at.length) this.#grow()
    let i = this.end++
    for (; i > this.first && (this.at[i - 1] as number) > at; i--) {
      this.at[i] = this.at[i - 1] as number
      this.place[i] = this.place[i - 1] as number
      this.row[i] = this.row[i - 1] as number
    }
    this.at[i] = at
    this.place[i] = place
    this.row[i] = row
  }

  /** Moment of the next one, years; Infinity if there is none. */
  get nextAt(): number {
    return this.first < this.end ? (this.at[this.first] as number) : Infinity
  }

  #grow(): void {
    const { at, place, row } = this
    this.at = new Float64Array(2 * at.length)
    this.place = new Int32Array(2 * at.length)
    this.row = new Int32Array(2 * at.length)
    this.at.set(at)
    this.place.set(place)
    this.row.set(row)
  }
}
