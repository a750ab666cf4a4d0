import { bisect } from '../../numerics/bisection.ts'

/**
 * Voltage and current of a group of cells behind one bypass diode, as shares of its own open-circuit voltage and of its
 * short-circuit current at 1000 W/m² (E4). All groups of a panel see the same light here, so a panel is three alike.
 */

/** Softness of the knee, and the rise of voltage with light; fill factor 0.785. Ours, checked against that fill factor. */
export const KNEE = 1 / 17
const LIGHT = 1 / 22

/** Voltage lost in a bypass diode that carries the string's current, as a share of the group's: ours, about half a volt. */
export const DIODE = 0.03

/**
 * Voltage without current (E4): 1 + ln(g)/22.
 *
 * @param suns - g, light over 1000 W/m², > 0
 * @returns voltage, 1 at g = 1
 */
export function openVoltage(suns: number): number {
  return 1 + LIGHT * Math.log(suns)
}

/**
 * Voltage at a current (E4): max(1 + ln(g)/22 + ln(1 − i/g)/17, −0.03).
 *
 * @param current - i, >= 0
 * @param suns - g, light over 1000 W/m²
 * @returns voltage, [-0.03, about 1]
 * @source single-diode equation without resistances; Bishop (1988), Computer simulation of the effects of electrical
 *   mismatches in photovoltaic cell interconnection circuits, Solar Cells 25, 73–89, for the bypassed group
 */
export function voltageAt(current: number, suns: number): number {
  if (current >= suns) return -DIODE
  return Math.max(-DIODE, 1 + LIGHT * Math.log(suns) + KNEE * Math.log(1 - current / suns))
}

const TABLE_STEP = 1 / 400
const TABLE_SIZE = 801
const BEST_CURRENT = Float64Array.from({ length: TABLE_SIZE }, (_, i) => currentOfLargestPower(i * TABLE_STEP))
const BEST_POWER = BEST_CURRENT.map((current, i) => current * Math.max(0, voltageAt(current, i * TABLE_STEP)))

/**
 * Most power a group can give under some light: what a tracker of its own finds (E4).
 *
 * @param suns - g, [0, 2]
 * @returns power, in shares of open-circuit voltage × short-circuit current; 0.785 at g = 1
 */
export function bestPower(suns: number): number {
  return inTable(BEST_POWER, suns)
}

/**
 * The current at which a group gives its most power (E4).
 *
 * @param suns - g, [0, 2]
 * @returns current, [0, suns]
 */
export function bestCurrent(suns: number): number {
  return inTable(BEST_CURRENT, suns)
}

function inTable(table: Float64Array, suns: number): number {
  const place = Math.min(TABLE_SIZE - 1.001, Math.max(0, suns / TABLE_STEP))
  const left = Math.floor(place)
  const low = table[left] ?? 0
  return low + ((table[left + 1] ?? low) - low) * (place - left)
}

function currentOfLargestPower(suns: number): number {
  if (suns <= 0 || openVoltage(suns) <= 0) return 0
  const top = openVoltage(suns)
  // the derivative of x(top + KNEE ln(1 − x)) falls in x, so bisection finds its root
  const rises = (x: number): boolean => top + KNEE * Math.log(1 - x) - (KNEE * x) / (1 - x) > 0
  return suns * bisect(0, 1 - 1e-12, 60, rises).low
}
