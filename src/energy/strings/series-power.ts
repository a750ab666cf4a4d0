import { bestCurrent, bestPower, DIODE, KNEE, openVoltage } from '../panels/module-curve.ts'
import type { LitStrings } from './lit-strings.ts'

/** Most kinds of light in one string that the scratch space holds. */
const MOST = 1024

// Scratch, reused from call to call: parts without optimisers, the brightest light first; then those with.
const sunsOf = new Float64Array(MOST)
const countOf = new Float64Array(MOST)
const openOf = new Float64Array(MOST)
const freeSuns = new Float64Array(MOST)
const freeCount = new Float64Array(MOST)
const freeOpen = new Float64Array(MOST)
const freeCurrent = new Float64Array(MOST)

/**
 * Most power of one string: the best common current (E4–E6). A part without optimisers carries the current or its
 * bypass diodes do, so the best point is that of the k brightest such parts for some k; for each k the power is concave
 * in the current, and its maximum is found by its slope. A part with optimisers gives its best at any current above
 * that of its best point.
 *
 * @param string - one string, its light set
 * @returns power, in the unit of `bestPower`, >= 0
 */
export function seriesPower(string: LitStrings): number {
  const nFree = fillOptimised(string)
  const n = fillBound(string)
  let behind = 0
  for (let part = 0; part < n; part++) behind += countOf[part] ?? 0
  let free = 0
  let freeEnd = 0
  for (let part = 0; part < nFree; part++) {
    free += (freeCount[part] ?? 0) * bestPower(freeSuns[part] ?? 0)
    freeEnd = Math.max(freeEnd, freeCurrent[part] ?? 0)
  }
  if (n === 0) return free
  let best = freeEnd > 0 ? topOf(0, nFree, freeEnd, DIODE * behind) : 0
  let open = 0
  for (let k = 1; k <= n; k++) {
    open += (countOf[k - 1] ?? 0) * (openOf[k - 1] ?? 0)
    behind -= countOf[k - 1] ?? 0
    const dimmest = sunsOf[k - 1] ?? 0
    // no point of this k can beat its smallest current at the open voltage of its parts
    if (dimmest * (open - DIODE * behind) + free > best) {
      best = Math.max(best, topOf(k, nFree, dimmest, DIODE * behind))
    }
  }
  return best
}

// Last result of `measure`: power, its first and its second derivative by the current.
const found = new Float64Array(3)

/** Largest power on (0, end) while the k brightest bound parts carry the current and the others are bypassed. */
function topOf(k: number, nFree: number, end: number, bypassed: number): number {
  let low = 0
  let high = end
  let current = 0.92 * end
  let power = 0
  for (let i = 0; i < 40; i++) {
    measure(k, nFree, current, bypassed)
    power = found[0] ?? 0
    const slope = found[1] ?? 0
    const bend = found[2] ?? 0
    if (slope > 0) low = current
    else high = current
    const newton = bend < 0 ? current - slope / bend : Number.NaN
    const next = newton > low && newton < high ? newton : (low + high) / 2
    // near the top the power changes with the square of the error of the current
    if (Math.abs(next - current) < 1e-4 * end) return power
    current = next
  }
  return power
}

function measure(k: number, nFree: number, current: number, bypassed: number): void {
  let voltage = -bypassed
  let fall = 0
  let curl = 0
  let flat = 0
  for (let part = 0; part < k; part++) {
    const light = sunsOf[part] ?? 0
    const count = countOf[part] ?? 0
    const room = light - current
    voltage += count * ((openOf[part] ?? 0) + KNEE * Math.log(room / light))
    fall -= (count * KNEE) / room
    curl -= (count * KNEE) / (room * room)
  }
  for (let part = 0; part < nFree; part++) {
    const light = freeSuns[part] ?? 0
    const count = freeCount[part] ?? 0
    if (current >= (freeCurrent[part] ?? 0)) {
      flat += count * bestPower(light)
      continue
    }
    const room = light - current
    voltage += count * ((freeOpen[part] ?? 0) + KNEE * Math.log(room / light))
    fall -= (count * KNEE) / room
    curl -= (count * KNEE) / (room * room)
  }
  found[0] = current * voltage + flat
  found[1] = voltage + current * fall
  found[2] = 2 * fall + current * curl
}

/** Parts without optimisers, brightest first; one without light stays bypassed. */
function fillBound({ start, suns, count, optimised }: LitStrings): number {
  const end = start[1] ?? 0
  let n = 0
  for (let part = 0; part < end; part++) {
    if (optimised[part] === 1) continue
    const light = Math.max(1e-9, suns[part] ?? 0)
    let place = n
    while (place > 0 && (sunsOf[place - 1] ?? 0) < light) {
      sunsOf[place] = sunsOf[place - 1] ?? 0
      countOf[place] = countOf[place - 1] ?? 0
      place--
    }
    sunsOf[place] = light
    countOf[place] = count[part] ?? 0
    n++
  }
  for (let part = 0; part < n; part++) openOf[part] = openVoltage(sunsOf[part] ?? 1)
  return n
}

function fillOptimised({ start, suns, count, optimised }: LitStrings): number {
  const end = start[1] ?? 0
  let n = 0
  for (let part = 0; part < end; part++) {
    const light = suns[part] ?? 0
    if (optimised[part] !== 1 || light <= 0) continue
    freeSuns[n] = light
    freeCount[n] = count[part] ?? 0
    freeOpen[n] = openVoltage(light)
    freeCurrent[n] = bestCurrent(light)
    n++
  }
  return n
}
