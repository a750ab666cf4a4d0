import { KNEE, openVoltage } from '../panels/module-curve.ts'
import type { LitStrings } from './lit-strings.ts'
import { addCurve, drawCurve, emptyCurve, type StringCurve } from './string-curve.ts'

const GRID = 32
const REFINE = 14
const GOLDEN = (Math.sqrt(5) - 1) / 2

/** Parallel strings at one moment: a formula for even light, a tabulated curve for uneven light. */
interface StringBuffers {
  readonly strings: LitStrings
  /** By string: panels of even light, 0 where the curve is tabulated; their light and open voltage. */
  readonly evenPanels: Float64Array
  readonly evenSuns: Float64Array
  readonly evenOpen: Float64Array
  readonly curves: readonly StringCurve[]
  /** Voltages to be tried, and what all strings give at each. */
  readonly voltages: Float64Array
  readonly currents: Float64Array
}

// Buffers for the curves of an input, reused for every moment of its year.
const buffersOf = new WeakMap<LitStrings, StringBuffers>()

/**
 * Most power of parallel strings: the best common voltage (E4, E5).
 *
 * @param strings - the strings, their light set
 * @returns power, in the unit of `bestPower`, >= 0
 */
export function parallelPower(strings: LitStrings): number {
  const buffers = buffersOf.get(strings) ?? buffersFor(strings)
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
      buffers.evenPanels[string] = count[first] ?? 0
      buffers.evenSuns[string] = suns[first] ?? 0
      buffers.evenOpen[string] = openVoltage(suns[first] ?? 0)
    } else {
      buffers.evenPanels[string] = 0
      onePeak = false
      const curve = buffers.curves[string]
      if (curve !== undefined) drawCurve(curve, strings, string)
    }
  }
  return largestPower(buffers, longest, onePeak ? 3 : GRID)
}

function buffersFor(strings: LitStrings): StringBuffers {
  const { nStrings, mostParts } = strings
  const buffers: StringBuffers = {
    strings,
    evenPanels: new Float64Array(nStrings),
    evenSuns: new Float64Array(nStrings),
    evenOpen: new Float64Array(nStrings),
    curves: Array.from({ length: nStrings }, () => emptyCurve(mostParts)),
    voltages: new Float64Array(GRID),
    currents: new Float64Array(GRID),
  }
  buffersOf.set(strings, buffers)
  return buffers
}

/** Sums the currents of all strings at the first of the voltages, which ascend. */
function playVoltages(buffers: StringBuffers, nVoltages: number): void {
  const { strings, evenPanels, curves, currents } = buffers
  currents.fill(0, 0, nVoltages)
  for (let string = 0; string < strings.nStrings; string++) {
    const curve = curves[string]
    if ((evenPanels[string] ?? 0) > 0) addEven(buffers, string, nVoltages)
    else if (curve !== undefined) addCurve(curve, strings.times[string] ?? 1, buffers.voltages, currents, nVoltages)
  }
}

/** A string of even light: the inverse of `voltageAt`. */
function addEven(buffers: StringBuffers, string: number, nVoltages: number): void {
  const { voltages, currents } = buffers
  const times = buffers.strings.times[string] ?? 1
  const panels = buffers.evenPanels[string] ?? 1
  const suns = buffers.evenSuns[string] ?? 0
  const open = buffers.evenOpen[string] ?? 0
  if (suns <= 0) return
  for (let i = 0; i < nVoltages; i++) {
    const current = suns * (1 - Math.exp(((voltages[i] ?? 0) / panels - open) / KNEE))
    if (current > 0) currents[i] = (currents[i] ?? 0) + times * current
  }
}

/** Largest power on [0, end]: the best point of a grid, refined between its neighbours. */
function largestPower(buffers: StringBuffers, end: number, grid: number): number {
  const { voltages, currents } = buffers
  for (let i = 0; i < grid; i++) voltages[i] = (end * (i + 1)) / grid
  playVoltages(buffers, grid)
  let best = 0
  let bestAt = 0
  for (let i = 0; i < grid; i++) {
    const power = (voltages[i] ?? 0) * (currents[i] ?? 0)
    if (power > best) {
      best = power
      bestAt = voltages[i] ?? 0
    }
  }
  return Math.max(best, refined(buffers, Math.max(0, bestAt - end / grid), Math.min(end, bestAt + end / grid)))
}

/** Largest power between two voltages, by golden section. */
function refined(buffers: StringBuffers, from: number, to: number): number {
  const { voltages, currents } = buffers
  let low = from
  let high = to
  let left = high - GOLDEN * (high - low)
  let right = low + GOLDEN * (high - low)
  voltages[0] = left
  voltages[1] = right
  playVoltages(buffers, 2)
  let atLeft = left * (currents[0] ?? 0)
  let atRight = right * (currents[1] ?? 0)
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
    voltages[0] = goRight ? right : left
    playVoltages(buffers, 1)
    const power = (voltages[0] ?? 0) * (currents[0] ?? 0)
    if (goRight) atRight = power
    else atLeft = power
  }
  return Math.max(atLeft, atRight)
}
