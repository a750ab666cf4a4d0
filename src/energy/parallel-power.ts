import type { LitStrings } from './lit-strings.ts'
import { KNEE, openVoltage } from './module-curve.ts'
import { currentOnCurve, drawCurve, emptyCurve, type StringCurve } from './string-curve.ts'

const GRID = 32
const REFINE = 14
const GOLDEN = (Math.sqrt(5) - 1) / 2

/** Strings side by side at one moment; even light is a formula, uneven light a drawn curve. */
interface SideBySide {
  readonly strings: LitStrings
  /** By string: panels of even light, 0 where the curve is drawn; their light and open voltage. */
  readonly evenPanels: Float64Array
  readonly evenSuns: Float64Array
  readonly evenOpen: Float64Array
  readonly curves: readonly StringCurve[]
}

// Room for the curves of an input, reused for every moment of its year.
const rooms = new WeakMap<LitStrings, SideBySide>()

/**
 * Most power of strings side by side: the best common voltage (E4, E5).
 *
 * @param strings - the strings, their light set
 * @returns power, in the unit of `bestPower`, >= 0
 */
export function parallelPower(strings: LitStrings): number {
  const room = rooms.get(strings) ?? roomFor(strings)
  const { start, suns, count, optimised } = strings
  let longest = 0
  // strings of even light have one peak between them; others may have several
  let onePeak = true
  for (let string = 0; string < strings.nStrings; string++) {
    const first = start[string] ?? 0
    const last = start[string + 1] ?? 0
    let open = 0
    for (let part = first; part < last; part++) {
      open += (count[part] ?? 0) * Math.max(0, openVoltage(suns[part] ?? 0))
    }
    longest = Math.max(longest, open)
    if (last - first === 1 && optimised[first] === 0) {
      room.evenPanels[string] = count[first] ?? 0
      room.evenSuns[string] = suns[first] ?? 0
      room.evenOpen[string] = openVoltage(suns[first] ?? 0)
    } else {
      room.evenPanels[string] = 0
      onePeak = false
      const curve = room.curves[string]
      if (curve !== undefined) drawCurve(curve, strings, string)
    }
  }
  return largestPower(room, longest, onePeak ? 3 : GRID)
}

function roomFor(strings: LitStrings): SideBySide {
  const { nStrings, mostParts } = strings
  const room: SideBySide = {
    strings,
    evenPanels: new Float64Array(nStrings),
    evenSuns: new Float64Array(nStrings),
    evenOpen: new Float64Array(nStrings),
    curves: Array.from({ length: nStrings }, () => emptyCurve(mostParts)),
  }
  rooms.set(strings, room)
  return room
}

/** Current of all strings at a common voltage. */
function currentOfAll(room: SideBySide, voltage: number): number {
  let current = 0
  for (let string = 0; string < room.strings.nStrings; string++) {
    current += (room.strings.times[string] ?? 1) * currentOf(room, string, voltage)
  }
  return current
}

function currentOf({ evenPanels, evenSuns, evenOpen, curves }: SideBySide, string: number, voltage: number): number {
  const panels = evenPanels[string] ?? 0
  if (panels === 0) {
    const curve = curves[string]
    return curve === undefined ? 0 : currentOnCurve(curve, voltage)
  }
  const suns = evenSuns[string] ?? 0
  if (suns <= 0) return 0
  // the inverse of `voltageAt`
  return Math.max(0, suns * (1 - Math.exp((voltage / panels - (evenOpen[string] ?? 0)) / KNEE)))
}

/** Largest power on [0, end]: the best of a grid, refined beside it. */
function largestPower(room: SideBySide, end: number, grid: number): number {
  let best = 0
  let bestAt = 0
  for (let i = 1; i <= grid; i++) {
    const at = (end * i) / grid
    const here = at * currentOfAll(room, at)
    if (here > best) {
      best = here
      bestAt = at
    }
  }
  return Math.max(best, refined(room, Math.max(0, bestAt - end / grid), Math.min(end, bestAt + end / grid)))
}

/** Largest power between two voltages, by golden section. */
function refined(room: SideBySide, from: number, to: number): number {
  let low = from
  let high = to
  let left = high - GOLDEN * (high - low)
  let right = low + GOLDEN * (high - low)
  let atLeft = left * currentOfAll(room, left)
  let atRight = right * currentOfAll(room, right)
  for (let i = 0; i < REFINE; i++) {
    const goRight = atLeft < atRight
    if (goRight) {
      low = left
      left = right
      atLeft = atRight
      right = low + GOLDEN * (high - low)
    } else {
      high = right
      right = left
      atRight = atLeft
      left = high - GOLDEN * (high - low)
    }
    const tried = goRight ? right : left
    const power = tried * currentOfAll(room, tried)
    if (goRight) atRight = power
    else atLeft = power
  }
  return Math.max(atLeft, atRight)
}
