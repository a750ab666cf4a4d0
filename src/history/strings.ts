import { ReusableStream } from '../numerics/streams.ts'
import type { UnitTruth } from './unit-truth.ts'

/** Part of a population's stream that deals its failing units to strings. */
const LABEL_PART = 0xffffffff

// memory that serves draw after draw
const stream = new ReusableStream()
let strings = new Int32Array(64)
/** A shuffle of 0 … count − 1 of which only the touched places are kept. */
const moved = new Map<number, number>()

/**
 * The strings of the failing units of a population, in the order in which they are listed (O4): units are dealt one to
 * each string in turn, and which unit fails is chance.
 *
 * @param unit - the population
 * @param draw - number of the draw over the whole run
 * @param failing - how many units, <= count
 * @returns one string a unit; may be longer; valid until the next call; null where all hang on one string or on none
 */
export function stringsOfUnits(unit: UnitTruth, draw: number, failing: number): Int32Array | null {
  if (unit.strings < 2) return null
  if (failing > strings.length) strings = new Int32Array(2 * failing)
  stream.open(unit.key, draw, LABEL_PART)
  moved.clear()
  for (let i = 0; i < failing; i++) {
    const j = i + Math.floor(stream.coarse() * (unit.count - i))
    const label = moved.get(j) ?? j
    moved.set(j, moved.get(i) ?? i)
    strings[i] = (unit.dealtBefore + label) % unit.strings
  }
  return strings
}

/**
 * The string of one of them.
 *
 * @param dealt - from `stringsOfUnits`
 * @param unit - the population
 * @param i - which of the failing units
 * @returns the string; −1 where the population hangs on none
 */
export function stringOf(dealt: Int32Array | null, unit: UnitTruth, i: number): number {
  return dealt === null ? unit.strings - 1 : (dealt[i] ?? -1)
}
