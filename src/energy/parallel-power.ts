import { bestCurrent, bestPower, DIODE, KNEE, openVoltage } from './module-curve.ts'
import type { PanelString, StringPart } from './string-power.ts'

/** Points of a string's curve by which it is drawn. */
const POINTS = 48
const GRID = 32
const REFINE = 14
const GOLDEN = (Math.sqrt(5) - 1) / 2

/** A string at the common voltage: the formula of one group of cells where its light is even, else a drawn curve. */
interface Strung {
  times: number
  /** Panels of even light; 0: the curve is drawn. */
  evenPanels: number
  evenSuns: number
  evenOpen: number
  nPoints: number
  /** Ascending; the voltages fall along it. */
  currents: Float64Array
  voltages: Float64Array
}

// Scratch, reused from call to call: one entry a string.
const strung: Strung[] = []

/**
 * Most power of strings side by side: the best common voltage (E4, E5).
 *
 * @param strings - the strings, equal ones counted
 * @param suns - light over 1000 W/m² by index
 * @returns power, in the unit of `bestPower`, >= 0
 */
export function parallelPower(strings: readonly PanelString[], suns: Float64Array): number {
  let longest = 0
  // strings of even light have one peak between them; others may have several
  let onePeak = true
  let nStrings = 0
  for (const string of strings) {
    const scratch = scratchOf(nStrings++)
    let open = 0
    for (const part of string.parts) open += part.count * Math.max(0, openVoltage(suns[part.light] ?? 0))
    longest = Math.max(longest, open)
    scratch.times = string.times
    const only = string.parts.length === 1 ? string.parts[0] : undefined
    if (only === undefined || only.optimised) {
      scratch.evenPanels = 0
      drawCurve(scratch, string.parts, suns)
      onePeak = false
    } else {
      scratch.evenPanels = only.count
      scratch.evenSuns = suns[only.light] ?? 0
      scratch.evenOpen = openVoltage(scratch.evenSuns)
    }
  }
  return largestPower(nStrings, longest, onePeak ? 3 : GRID)
}

function scratchOf(place: number): Strung {
  const known = strung[place]
  if (known !== undefined) return known
  const made: Strung = {
    times: 1,
    evenPanels: 0,
    evenSuns: 0,
    evenOpen: 0,
    nPoints: 0,
    currents: new Float64Array(4 * POINTS),
    voltages: new Float64Array(4 * POINTS),
  }
  strung[place] = made
  return made
}

/** Power of all strings at a common voltage. */
function powerAt(voltage: number, nStrings: number): number {
  let current = 0
  for (let place = 0; place < nStrings; place++) {
    const string = strung[place]
    if (string === undefined) continue
    current += string.times * (string.evenPanels > 0 ? evenCurrent(string, voltage) : currentOnCurve(string, voltage))
  }
  return voltage * current
}

/** Current of a string of even light: `currentAt` with its logarithm taken beforehand. */
function evenCurrent({ evenPanels, evenSuns, evenOpen }: Strung, voltage: number): number {
  if (evenSuns <= 0) return 0
  return Math.max(0, evenSuns * (1 - Math.exp((voltage / evenPanels - evenOpen) / KNEE)))
}

/** Distances of the points of a curve from the light's own current: the knee is a logarithm of that distance. */
const kneePoints = new Map<number, Float64Array>()

function kneePointsOf(each: number): Float64Array {
  const known = kneePoints.get(each)
  if (known !== undefined) return known
  const made = Float64Array.from({ length: each }, (_, i) => 1 - 10 ** ((-3.2 * (i + 1)) / each))
  kneePoints.set(each, made)
  return made
}

/** Current against voltage of a string of uneven light, in straight lines between points that lie close at each knee. */
function drawCurve(scratch: Strung, parts: readonly StringPart[], suns: Float64Array): void {
  let brightest = 0
  for (const part of parts) brightest = Math.max(brightest, suns[part.light] ?? 0)
  const each = Math.max(3, Math.ceil(POINTS / parts.length))
  const knee = kneePointsOf(each)
  const most = 2 + parts.length * (2 * each + 1)
  if (scratch.currents.length < most) {
    scratch.currents = new Float64Array(most)
    scratch.voltages = new Float64Array(most)
  }
  const { currents } = scratch
  let n = 2
  currents[0] = 0
  currents[1] = brightest
  for (const part of parts) {
    const light = suns[part.light] ?? 0
    for (let i = 0; i < each; i++) currents[n++] = light * (knee[i] ?? 0)
    if (!part.optimised) continue
    // from its best point on, power stays and voltage falls with current, up to twice what the brightest panel gives
    const from = bestCurrent(light)
    if (from > 0) for (let i = 0; i <= each; i++) currents[n++] = from * ((2 * brightest) / from) ** (i / each)
  }
  scratch.nPoints = n
  currents.subarray(0, n).sort()
  scratch.voltages.fill(0, 0, n)
  for (const part of parts) addVoltages(scratch, part, suns[part.light] ?? 0)
}

/** Adds the voltage of a part at every current of the curve: `voltageAt`, or `optimisedVoltageAt`, point by point. */
function addVoltages({ currents, voltages, nPoints }: Strung, part: StringPart, light: number): void {
  const open = light > 0 ? openVoltage(light) : 0
  const optimised = part.optimised && light > 0
  const best = optimised ? bestCurrent(light) : Number.POSITIVE_INFINITY
  const power = optimised ? bestPower(light) : 0
  for (let i = 0; i < nPoints; i++) {
    const current = currents[i] ?? 0
    let voltage = -DIODE
    if (current >= best) voltage = power / current
    else if (current < light) voltage = Math.max(-DIODE, open + KNEE * Math.log(1 - current / light))
    voltages[i] = (voltages[i] ?? 0) + part.count * voltage
  }
}

/** Voltages fall along the curve. */
function currentOnCurve({ currents, voltages, nPoints }: Strung, voltage: number): number {
  if (voltage >= (voltages[0] ?? 0)) return 0
  let low = 0
  let high = nPoints - 1
  while (high - low > 1) {
    const middle = (low + high) >> 1
    if ((voltages[middle] ?? 0) > voltage) low = middle
    else high = middle
  }
  const above = voltages[low] ?? 0
  const below = voltages[high] ?? 0
  const from = currents[low] ?? 0
  return above === below ? from : from + (((currents[high] ?? 0) - from) * (above - voltage)) / (above - below)
}

/** Largest power on [0, end]: the best of a grid, refined beside it. */
function largestPower(nStrings: number, end: number, grid: number): number {
  let best = 0
  let bestAt = 0
  for (let i = 1; i <= grid; i++) {
    const at = (end * i) / grid
    const here = powerAt(at, nStrings)
    if (here > best) {
      best = here
      bestAt = at
    }
  }
  let low = Math.max(0, bestAt - end / grid)
  let high = Math.min(end, bestAt + end / grid)
  let left = high - GOLDEN * (high - low)
  let right = low + GOLDEN * (high - low)
  let atLeft = powerAt(left, nStrings)
  let atRight = powerAt(right, nStrings)
  for (let i = 0; i < REFINE; i++) {
    if (atLeft < atRight) {
      low = left
      left = right
      atLeft = atRight
      right = low + GOLDEN * (high - low)
      atRight = powerAt(right, nStrings)
    } else {
      high = right
      right = left
      atRight = atLeft
      left = high - GOLDEN * (high - low)
      atLeft = powerAt(left, nStrings)
    }
  }
  return Math.max(best, atLeft, atRight)
}
