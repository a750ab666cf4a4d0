import { DIODE, KNEE, openVoltage } from './module-curve.ts'
import type { StringPart } from './string-power.ts'

/** Most kinds of light in one string that the scratch space holds. */
const MOST = 1024

// Scratch, reused from call to call: the parts with the brightest light first.
const sunsOf = new Float64Array(MOST)
const countOf = new Float64Array(MOST)
const openOf = new Float64Array(MOST)

/**
 * Most power of one string: the best common current (E4, E5). A part carries the current or its bypass diodes do, so
 * the best point is that of the k brightest parts for some k; for each k the power is concave in the current and
 * Newton's method finds its top.
 *
 * @param parts - panels by light
 * @param suns - light over 1000 W/m² by index
 * @returns power, in the unit of `bestPower`, >= 0
 */
export function seriesPower(parts: readonly StringPart[], suns: Float64Array): number {
  const n = sortByLight(parts, suns)
  let behind = 0
  for (let part = 0; part < n; part++) behind += countOf[part] ?? 0
  let best = 0
  let open = 0
  for (let k = 1; k <= n; k++) {
    open += (countOf[k - 1] ?? 0) * (openOf[k - 1] ?? 0)
    behind -= countOf[k - 1] ?? 0
    const dimmest = sunsOf[k - 1] ?? 0
    // no point of this k can beat its smallest current at the open voltage of its parts
    if (dimmest * (open - DIODE * behind) > best) best = Math.max(best, topOf(k, dimmest, DIODE * behind))
  }
  return best
}

/** Largest power while the k brightest parts carry the current and the others are bypassed. */
function topOf(k: number, dimmest: number, bypassed: number): number {
  let current = 0.92 * dimmest
  for (let i = 0; i < 12; i++) {
    let voltage = -bypassed
    let slope = 0
    let bend = 0
    for (let part = 0; part < k; part++) {
      const light = sunsOf[part] ?? 0
      const count = countOf[part] ?? 0
      const room = light - current
      voltage += count * ((openOf[part] ?? 0) + KNEE * Math.log(room / light))
      slope -= (count * KNEE) / room
      bend -= (count * KNEE) / (room * room)
    }
    const rise = voltage + current * slope
    const next = current - rise / (2 * slope + current * bend)
    const bounded = next <= 0 ? current / 2 : next >= dimmest ? (current + dimmest) / 2 : next
    // near the top the power changes with the square of the error of the current
    if (Math.abs(bounded - current) < 1e-4 * dimmest) return current * voltage
    current = bounded
  }
  return powerAt(k, current, bypassed)
}

function powerAt(k: number, current: number, bypassed: number): number {
  let voltage = -bypassed
  for (let part = 0; part < k; part++) {
    const light = sunsOf[part] ?? 0
    voltage += (countOf[part] ?? 0) * ((openOf[part] ?? 0) + KNEE * Math.log(1 - current / light))
  }
  return current * voltage
}

/** Fills the scratch space; parts without light are left out of the count but stay bypassed. */
function sortByLight(parts: readonly StringPart[], suns: Float64Array): number {
  let n = 0
  for (const part of parts) {
    const light = Math.max(1e-9, suns[part.light] ?? 0)
    let place = n
    while (place > 0 && (sunsOf[place - 1] ?? 0) < light) {
      sunsOf[place] = sunsOf[place - 1] ?? 0
      countOf[place] = countOf[place - 1] ?? 0
      place--
    }
    sunsOf[place] = light
    countOf[place] = part.count
    n++
  }
  for (let part = 0; part < n; part++) openOf[part] = openVoltage(sunsOf[part] ?? 1)
  return n
}
