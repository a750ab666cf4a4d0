import { FIRST_ROOM } from '../numerics/first-room.ts'

/** Units that are down and wait for a visit. */
export class DownUnits {
  n = 0
  place = new Int32Array(FIRST_ROOM)
  row = new Int32Array(FIRST_ROOM)
  /** Moment of detection; Infinity once detected. */
  detectAt = new Float64Array(FIRST_ROOM)
  /** Gap of monitoring of a gateway, or −1. */
  gap = new Int32Array(FIRST_ROOM)

  /** Adds one. */
  add(place: number, row: number, detectAt: number, gap: number): void {
    if (this.n === this.place.length) this.#grow()
    const i = this.n++
    this.place[i] = place
    this.row[i] = row
    this.detectAt[i] = detectAt
    this.gap[i] = gap
  }

  /** The next one to be detected; −1 if all are. */
  soonest(): number {
    let soonest = -1
    let at = Infinity
    for (let i = 0; i < this.n; i++) {
      if ((this.detectAt[i] as number) < at) {
        at = this.detectAt[i] as number
        soonest = i
      }
    }
    return soonest
  }

  #grow(): void {
    const { place, row, detectAt, gap } = this
    this.place = new Int32Array(2 * place.length)
    this.row = new Int32Array(2 * place.length)
    this.detectAt = new Float64Array(2 * place.length)
    this.gap = new Int32Array(2 * place.length)
    this.place.set(place)
    this.row.set(row)
    this.detectAt.set(detectAt)
    this.gap.set(gap)
  }
}
