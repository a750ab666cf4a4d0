import type { AgeUnit } from '../age-unit.ts'
import type { SlotHistory } from '../curves/mean-cumulative.ts'
import { ageFromDays } from './dates.ts'

/** Rows above which slots are no longer followed (ours: 40 bytes a row). */
const MOST_ROWS = 5_000_000

/**
 * Follows each slot through its rows: which rows have the same `unit`. A unit is stored as a 64-bit hash of its name
 * (two of a million names share one with a chance of 3 in 100 million).
 */
export class Slots {
  readonly #ageUnit: AgeUnit
  #nOverlapping = 0
  #nOutOfOrder = 0
  #length = 0
  #hashes = new Uint32Array(2 * 1024)
  #numbers = new Float64Array(4 * 1024)
  #tooMany = false

  constructor(ageUnit: AgeUnit) {
    this.#ageUnit = ageUnit
  }

  /** Slots with rows that overlap in time by more than a day; known once the histories are. */
  get nOverlapping(): number {
    return this.#nOverlapping
  }

  /** Slots with a row that began before the one above it in the file; known once the histories are. */
  get nOutOfOrder(): number {
    return this.#nOutOfOrder
  }

  /** A number for each row by the name of its slot: 52 bits of the hash. */
  nameKeys(): Float64Array {
    const keys = new Float64Array(this.#length)
    for (let r = 0; r < keys.length; r++) {
      keys[r] = (this.#hashes[2 * r] ?? 0) * 0x100000 + ((this.#hashes[2 * r + 1] ?? 0) & 0xfffff)
    }
    return keys
  }

  /**
   * Adds one life of a slot.
   *
   * @param name - the slot's name within its group
   * @param startAge - of this unit
   * @param endAge - of this unit
   * @param failed - whether it failed then
   * @param inServiceDay - orders the lives of a slot; NaN: order of the file
   */
  add(name: string, startAge: number, endAge: number, failed: boolean, inServiceDay: number): void {
    if (this.#length >= MOST_ROWS) {
      this.#tooMany = true
      return
    }
    if (2 * this.#length === this.#hashes.length) {
      const hashes = new Uint32Array(2 * this.#hashes.length)
      hashes.set(this.#hashes)
      this.#hashes = hashes
      const numbers = new Float64Array(2 * this.#numbers.length)
      numbers.set(this.#numbers)
      this.#numbers = numbers
    }
    let high = 0x811c9dc5
    let low = 0x9e3779b9
    for (let i = 0; i < name.length; i++) {
      const code = name.charCodeAt(i)
      high = Math.imul(high ^ code, 0x01000193)
      low = Math.imul((low ^ code) + 0x7f4a7c15, 0x85ebca6b)
      low ^= low >>> 13
    }
    this.#hashes[2 * this.#length] = high
    this.#hashes[2 * this.#length + 1] = low
    const at = 4 * this.#length
    this.#numbers[at] = startAge
    this.#numbers[at + 1] = endAge
    this.#numbers[at + 2] = failed ? 1 : 0
    this.#numbers[at + 3] = inServiceDay
    this.#length++
  }

  /**
   * The histories.
   *
   * @returns one a slot, slots of a single life counted together where their ages agree to four digits; null where no
   *   slot has more than one life, or there were too many rows
   */
  histories(): SlotHistory[] | null {
    if (this.#tooMany || !this.#anyTwice()) return null
    const hashes = this.#hashes
    const order = Uint32Array.from({ length: this.#length }, (_, r) => r).sort(
      (a, b) =>
        (hashes[2 * a] ?? 0) - (hashes[2 * b] ?? 0) || (hashes[2 * a + 1] ?? 0) - (hashes[2 * b + 1] ?? 0) || a - b,
    )
    const histories: SlotHistory[] = []
    const singles = new Map<string, { watched: [number, number][]; failures: number[]; count: number }>()
    for (let from = 0; from < order.length; ) {
      let to = from + 1
      while (to < order.length && this.#sameSlot(order[from] ?? 0, order[to] ?? 0)) to++
      if (to - from === 1) this.#addSingle(order[from] ?? 0, singles)
      else histories.push(this.#join(Array.from(order.subarray(from, to))))
      from = to
    }
    return [...histories, ...singles.values()]
  }

  /** Whether two rows may be of one slot: 52 bits of the hashes, sorted as numbers, which is fast. */
  #anyTwice(): boolean {
    const keys = this.nameKeys().sort()
    return keys.some((key, i) => i > 0 && key === keys[i - 1])
  }

  #sameSlot(a: number, b: number): boolean {
    return this.#hashes[2 * a] === this.#hashes[2 * b] && this.#hashes[2 * a + 1] === this.#hashes[2 * b + 1]
  }

  #addSingle(
    row: number,
    singles: Map<string, { watched: [number, number][]; failures: number[]; count: number }>,
  ): void {
    const start = Number((this.#numbers[4 * row] ?? 0).toPrecision(4))
    const end = Number((this.#numbers[4 * row + 1] ?? 0).toPrecision(4))
    const failed = this.#numbers[4 * row + 2] === 1
    const key = `${start} ${end} ${failed}`
    const known = singles.get(key)
    if (known === undefined) singles.set(key, { watched: [[start, end]], failures: failed ? [end] : [], count: 1 })
    else known.count++
  }

  /**
   * The lives of one slot, one after the other. A life that starts where the last one ended is of the same unit; one
   * that starts at 0 is a new unit in the slot.
   */
  #join(rows: number[]): SlotHistory {
    const day = (row: number): number => this.#numbers[4 * row + 3] ?? Number.NaN
    if (rows.some((row, i) => i > 0 && this.#began(row) < this.#began(rows[i - 1] ?? row))) this.#nOutOfOrder++
    rows.sort((a, b) => {
      const apart = day(a) - day(b)
      return Number.isNaN(apart) || apart === 0 ? a - b : apart
    })
    if (rows.some((row, i) => i > 0 && this.#overlap(rows[i - 1] ?? row, row))) this.#nOverlapping++
    const watched: [number, number][] = []
    const failures: number[] = []
    let offset = 0
    let slotAge = 0
    let unitAge = 0
    rows.forEach((row, i) => {
      const start = this.#numbers[4 * row] ?? 0
      const end = this.#numbers[4 * row + 1] ?? 0
      const sameUnit = i > 0 && start > 0 && start >= unitAge
      // Without dates a new unit takes over at once.
      if (!sameUnit) offset = slotAge - (i === 0 ? 0 : start)
      const from = offset + start
      watched.push([Math.max(from, slotAge), offset + end])
      slotAge = offset + end
      unitAge = end
      if (this.#numbers[4 * row + 2] === 1) failures.push(slotAge)
    })
    return { watched, failures, count: 1 }
  }

  /** When the watch of a row began, in the age unit since 1970; NaN without a date and where its unit was new. */
  #began(row: number): number {
    const start = this.#numbers[4 * row] ?? 0
    const day = this.#numbers[4 * row + 3] ?? Number.NaN
    if (!Number.isNaN(day)) return ageFromDays(day, this.#ageUnit) + start
    return start > 0 ? start : Number.NaN
  }

  /** Whether a row began more than a day before the one before it ended. */
  #overlap(before: number, row: number): boolean {
    const dated = [before, row].every(one => !Number.isNaN(this.#numbers[4 * one + 3] ?? Number.NaN))
    const end = this.#numbers[4 * before + 1] ?? 0
    const ended = dated ? ageFromDays(this.#numbers[4 * before + 3] ?? 0, this.#ageUnit) + end : end
    return this.#began(row) < ended - ageFromDays(1, this.#ageUnit)
  }
}
