import { bestPower, currentAt, voltageAt } from './module-curve.ts'

/** Panels of one string that get the same light: how many, and which light (index into a list of suns). */
export interface StringPart {
  readonly light: number
  readonly count: number
}

/** A string on a tracker input; `times` equal ones side by side. */
export interface PanelString {
  readonly parts: readonly StringPart[]
  readonly times: number
}

const GRID = 48
const REFINE = 14
const GOLDEN = (Math.sqrt(5) - 1) / 2

/**
 * Share of the power of panels tracked one by one that strings on a common tracker give (E4, E5), from their currents
 * and voltages. The tracker is taken to find the best point there is, which real ones may miss.
 *
 * @param strings - one: a common current; several: a common voltage
 * @param suns - light over 1000 W/m² by index
 * @returns share, [0, 1]; 1 where all panels get the same light and all strings are equally long
 */
export function sharedTrackerShare(strings: readonly PanelString[], suns: Float64Array): number {
  let alone = 0
  for (const string of strings) {
    for (const part of string.parts) alone += string.times * part.count * bestPower(suns[part.light] ?? 0)
  }
  if (alone <= 0) return 1
  const only = strings.length === 1 ? strings[0] : undefined
  const together = only === undefined ? parallelPower(strings, suns) : only.times * seriesPower(only, suns)
  return Math.min(1, together / alone)
}

/** Most power of one string: the best common current. */
function seriesPower(string: PanelString, suns: Float64Array): number {
  let brightest = 0
  for (const part of string.parts) brightest = Math.max(brightest, suns[part.light] ?? 0)
  return largest(current => current * stringVoltage(string, suns, current), brightest)
}

/** Most power of strings side by side: the best common voltage. */
function parallelPower(strings: readonly PanelString[], suns: Float64Array): number {
  let longest = 0
  for (const string of strings) longest = Math.max(longest, stringVoltage(string, suns, 0))
  return largest(voltage => {
    let current = 0
    for (const string of strings) current += string.times * stringCurrent(string, suns, voltage)
    return voltage * current
  }, longest)
}

function stringVoltage(string: PanelString, suns: Float64Array, current: number): number {
  let voltage = 0
  for (const part of string.parts) voltage += part.count * voltageAt(current, suns[part.light] ?? 0)
  return voltage
}

function stringCurrent(string: PanelString, suns: Float64Array, voltage: number): number {
  const only = string.parts.length === 1 ? string.parts[0] : undefined
  if (only !== undefined) return currentAt(voltage / only.count, suns[only.light] ?? 0)
  let low = 0
  let high = 0
  for (const part of string.parts) high = Math.max(high, suns[part.light] ?? 0)
  for (let i = 0; i < 24; i++) {
    const middle = (low + high) / 2
    if (stringVoltage(string, suns, middle) > voltage) low = middle
    else high = middle
  }
  return low
}

/** Largest value of a function on [0, end] that may have several peaks: the best of a grid, refined beside it. */
function largest(value: (at: number) => number, end: number): number {
  let best = 0
  let bestAt = 0
  for (let i = 1; i <= GRID; i++) {
    const at = (end * i) / GRID
    const here = value(at)
    if (here > best) {
      best = here
      bestAt = at
    }
  }
  let low = Math.max(0, bestAt - end / GRID)
  let high = Math.min(end, bestAt + end / GRID)
  for (let i = 0; i < REFINE; i++) {
    const left = high - GOLDEN * (high - low)
    const right = low + GOLDEN * (high - low)
    const atLeft = value(left)
    const atRight = value(right)
    best = Math.max(best, atLeft, atRight)
    if (atLeft < atRight) low = left
    else high = right
  }
  return best
}
