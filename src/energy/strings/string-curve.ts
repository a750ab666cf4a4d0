import { power } from '../../numerics/power.ts'
import { bestCurrent, bestPower, DIODE, KNEE, openVoltage } from '../panels/module-curve.ts'
import type { LitStrings } from './lit-strings.ts'

/** Points of a string's curve. */
const POINTS = 48

/** Current against voltage of a string of uneven light, in straight lines between points that lie close at each knee. */
export interface StringCurve {
  nPoints: number
  /** Ascending; the voltages fall along it. */
  readonly currents: Float64Array
  readonly voltages: Float64Array
  /** Distance of the points of a part from the current of its light, ascending: the knee is a logarithm of that distance. */
  readonly knee: Float64Array
  nKnee: number
  /** Scratch: points to be merged in, ascending. */
  readonly run: Float64Array
}

/**
 * Room for the curves of a string, reused from moment to moment.
 *
 * @param mostParts - largest number of parts, >= 1
 * @returns an empty curve
 */
export function emptyCurve(mostParts: number): StringCurve {
  const most = 2 + mostParts * (2 * pointsOfPart(mostParts) + 1) + 2 * POINTS
  return {
    nPoints: 0,
    currents: new Float64Array(most),
    voltages: new Float64Array(most),
    knee: new Float64Array(POINTS),
    nKnee: 0,
    run: new Float64Array(POINTS + 1),
  }
}

function pointsOfPart(nParts: number): number {
  return Math.max(3, Math.ceil(POINTS / nParts))
}

/**
 * Tabulates the curve of a string at this moment (E4–E6): above the current of its best point a panel with an optimiser
 * keeps its power while its voltage falls; below it the panel is tied to the string's current.
 *
 * @param curve - filled here
 * @param strings - their light is set
 * @param string - which of them
 * @source a converter that only steps down, the common kind; Femia, Lisi, Petrone, Spagnuolo, Vitelli (2008), Distributed
 *   maximum power point tracking of photovoltaic arrays, IEEE Transactions on Industrial Electronics 55(7)
 */
export function drawCurve(curve: StringCurve, strings: LitStrings, string: number): void {
  const { suns, optimised } = strings
  const first = strings.start[string] ?? 0
  const last = strings.start[string + 1] ?? 0
  const each = pointsOfPart(last - first)
  if (curve.nKnee !== each) fillKnee(curve, each)
  let brightest = 0
  for (let part = first; part < last; part++) brightest = Math.max(brightest, suns[part] ?? 0)
  curve.currents[0] = 0
  curve.currents[1] = brightest
  curve.nPoints = 2
  for (let part = first; part < last; part++) {
    const light = suns[part] ?? 0
    for (let i = 0; i < each; i++) curve.run[i] = light * (curve.knee[i] ?? 0)
    mergeRun(curve, each)
    const from = optimised[part] === 1 ? bestCurrent(light) : 0
    if (from > 0) {
      fillFalling(curve.run, from, 2 * brightest, each)
      mergeRun(curve, each + 1)
    }
  }
  curve.voltages.fill(0, 0, curve.nPoints)
  for (let part = first; part < last; part++) {
    addVoltages(curve, strings.count[part] ?? 0, suns[part] ?? 0, optimised[part] === 1)
  }
}

function fillKnee(curve: StringCurve, each: number): void {
  curve.nKnee = each
  for (let i = 0; i < each; i++) curve.knee[i] = 1 - power(10, (-3.2 * (i + 1)) / each)
}

/** Points at equal ratios from one current up to another, twice what the brightest panel gives. */
function fillFalling(run: Float64Array, from: number, to: number, each: number): void {
  const ratio = power(to / from, 1 / each)
  let current = from
  for (let i = 0; i <= each; i++) {
    run[i] = current
    current *= ratio
  }
}

/** Merges the first points of the run into the currents, from the largest down. */
function mergeRun(curve: StringCurve, nRun: number): void {
  const { currents, run } = curve
  let old = curve.nPoints - 1
  let to = old + nRun
  curve.nPoints = to + 1
  for (let i = nRun - 1; i >= 0; to--) {
    const ofRun = run[i] ?? 0
    const known = old >= 0 ? (currents[old] ?? 0) : -1
    if (known > ofRun) {
      currents[to] = known
      old--
    } else {
      currents[to] = ofRun
      i--
    }
  }
}

/** Adds the voltage of the panels of a part at every current: `voltageAt`, or that behind an optimiser. */
function addVoltages(curve: StringCurve, count: number, light: number, optimised: boolean): void {
  const { currents, voltages, nPoints } = curve
  const open = light > 0 ? openVoltage(light) : 0
  const best = optimised && light > 0 ? bestCurrent(light) : Number.POSITIVE_INFINITY
  const power = optimised ? bestPower(light) : 0
  for (let i = 0; i < nPoints; i++) {
    const current = currents[i] ?? 0
    let voltage = -DIODE
    if (current >= best) voltage = power / current
    else if (current < light) voltage = Math.max(-DIODE, open + KNEE * Math.log(1 - current / light))
    voltages[i] = (voltages[i] ?? 0) + count * voltage
  }
}

/**
 * Adds the current of equal strings at each of some voltages; 0 from their open voltage on.
 *
 * @param curve - one string, tabulated
 * @param times - how many
 * @param atVoltages - ascending, >= 0
 * @param sums - takes the currents, by voltage
 * @param nVoltages - how many voltages
 */
export function addCurve(
  curve: StringCurve,
  times: number,
  atVoltages: Float64Array,
  sums: Float64Array,
  nVoltages: number,
): void {
  const { currents, voltages, nPoints } = curve
  const open = voltages[0] ?? 0
  // the segment of the lowest voltage by halving, those of the others by walking up from it
  let low = segmentOf(curve, atVoltages[0] ?? 0)
  for (let i = 0; i < nVoltages; i++) {
    const voltage = atVoltages[i] ?? 0
    if (voltage >= open) return
    while (low > 0 && (voltages[low] ?? 0) <= voltage) low--
    const high = Math.min(low + 1, nPoints - 1)
    const above = voltages[low] ?? 0
    const below = voltages[high] ?? 0
    const from = currents[low] ?? 0
    const current =
      above === below ? from : from + (((currents[high] ?? 0) - from) * (above - voltage)) / (above - below)
    sums[i] = (sums[i] ?? 0) + times * current
  }
}

/** Last point but one whose voltage is higher. */
function segmentOf({ voltages, nPoints }: StringCurve, voltage: number): number {
  let low = 0
  let high = nPoints - 1
  while (high - low > 1) {
    const middle = (low + high) >> 1
    if ((voltages[middle] ?? 0) > voltage) low = middle
    else high = middle
  }
  return low
}
