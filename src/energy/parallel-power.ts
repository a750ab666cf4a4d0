import { bestCurrent, currentAt, openVoltage, optimisedVoltageAt, voltageAt } from './module-curve.ts'
import type { PanelString, StringPart } from './string-power.ts'

/** Points of a string's curve by which it is drawn. */
const POINTS = 48
const GRID = 32
const REFINE = 14
const GOLDEN = (Math.sqrt(5) - 1) / 2

/** Current of a string at a voltage, times the number of such strings. */
type CurrentAt = (voltage: number) => number

/**
 * Most power of strings side by side: the best common voltage (E4, E5).
 *
 * @param strings - the strings, equal ones counted
 * @param suns - light over 1000 W/m² by index
 * @returns power, in the unit of `bestPower`, >= 0
 */
export function parallelPower(strings: readonly PanelString[], suns: Float64Array): number {
  let longest = 0
  const currents = strings.map((string): CurrentAt => {
    let open = 0
    for (const part of string.parts) open += part.count * Math.max(0, openVoltage(suns[part.light] ?? 0))
    longest = Math.max(longest, open)
    const only = string.parts.length === 1 ? string.parts[0] : undefined
    if (only === undefined || only.optimised) return drawnCurve(string, suns)
    const light = suns[only.light] ?? 0
    return voltage => string.times * currentAt(voltage / only.count, light)
  })
  // strings of even light have one peak between them; others may have several
  const onePeak = strings.every(string => string.parts.length === 1 && !string.parts[0]?.optimised)
  return largest(
    voltage => {
      let current = 0
      for (const at of currents) current += at(voltage)
      return voltage * current
    },
    longest,
    onePeak ? 3 : GRID,
  )
}

/** Current against voltage of a string of uneven light, in straight lines between points that lie close at each knee. */
function drawnCurve(string: PanelString, suns: Float64Array): CurrentAt {
  const brightest = string.parts.reduce((most, part) => Math.max(most, suns[part.light] ?? 0), 0)
  const each = Math.max(3, Math.ceil(POINTS / string.parts.length))
  const points = [0, brightest]
  for (const part of string.parts) {
    const light = suns[part.light] ?? 0
    // the knee is a logarithm of the distance from the light's own current
    for (let i = 1; i <= each; i++) points.push(light * (1 - 10 ** ((-3.2 * i) / each)))
    if (!part.optimised) continue
    // from its best point on, power stays and voltage falls with current, up to twice what the brightest panel gives
    const from = bestCurrent(light)
    if (from > 0) for (let i = 0; i <= each; i++) points.push(from * ((2 * brightest) / from) ** (i / each))
  }
  const currents = Float64Array.from(points).sort()
  const voltages = currents.map(current => stringVoltage(string.parts, suns, current))
  return voltage => string.times * currentOnCurve(currents, voltages, voltage)
}

/** Voltages fall along the curve. */
function currentOnCurve(currents: Float64Array, voltages: Float64Array, voltage: number): number {
  if (voltage >= (voltages[0] ?? 0)) return 0
  let low = 0
  let high = currents.length - 1
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

function stringVoltage(parts: readonly StringPart[], suns: Float64Array, current: number): number {
  let voltage = 0
  for (const part of parts) {
    const light = suns[part.light] ?? 0
    const at = part.optimised && light > 0 ? optimisedVoltageAt : voltageAt
    voltage += part.count * at(current, light)
  }
  return voltage
}

/** Largest value of a function on [0, end]: the best of a grid, refined beside it. */
function largest(value: (at: number) => number, end: number, grid: number): number {
  let best = 0
  let bestAt = 0
  for (let i = 1; i <= grid; i++) {
    const at = (end * i) / grid
    const here = value(at)
    if (here > best) {
      best = here
      bestAt = at
    }
  }
  let low = Math.max(0, bestAt - end / grid)
  let high = Math.min(end, bestAt + end / grid)
  let left = high - GOLDEN * (high - low)
  let right = low + GOLDEN * (high - low)
  let atLeft = value(left)
  let atRight = value(right)
  for (let i = 0; i < REFINE; i++) {
    if (atLeft < atRight) {
      low = left
      left = right
      atLeft = atRight
      right = low + GOLDEN * (high - low)
      atRight = value(right)
    } else {
      high = right
      right = left
      atRight = atLeft
      left = high - GOLDEN * (high - low)
      atLeft = value(left)
    }
  }
  return Math.max(best, atLeft, atRight)
}
