import { ReusableStream } from '../numerics/random/streams.ts'
import type { Starts } from './history.ts'
import type { UnitParameters } from './parameters.ts'
import type { Rows } from './rows.ts'

/** Part of a population's stream that deals its failing units to strings. */
const LABEL_PART = 0xffffffff

// memory that is reused
const stream = new ReusableStream()
/** A shuffle of 0 … count − 1 of which only the changed places are stored. */
const moved = new Map<number, number>()

/**
 * Gives the failing units of a population in one lifetime their strings, in the order of their rows (O4): units are
 * assigned one to each string in turn, and which unit fails is chance. A single string is set already.
 *
 * @param unit - the population
 * @param starts - its streams
 * @param rows - its rows
 * @param draw - number of the draw over the whole run
 * @param lane - the lifetime
 * @param first - first row of the lifetime
 * @param end - row after its last
 */
export function dealStrings(
  unit: UnitParameters,
  starts: Starts,
  rows: Rows,
  draw: number,
  lane: number,
  first: number,
  end: number,
): void {
  if (unit.strings < 2) return
  stream.openWords(starts.keyHigh[lane] as number, starts.keyLow[lane] as number, draw, LABEL_PART)
  moved.clear()
  for (let row = first; row < end; row++) {
    const i = row - first
    const j = i + Math.floor(stream.coarse() * (unit.count - i))
    const label = moved.get(j) ?? j
    moved.set(j, moved.get(i) ?? i)
    rows.string[row] = (unit.dealtBefore + label) % unit.strings
  }
}
