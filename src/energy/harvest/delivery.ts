import { sumOf } from '../../numerics/sum.ts'
import { MONTHS_PER_YEAR } from '../../units.ts'
import type { DesignLoss } from '../option-energy.ts'
import { acShare } from './conversion-curve.ts'
import type { Device } from './device.ts'

/** The steps of a year: which month each belongs to and how many hours it represents. */
export interface YearSteps {
  readonly nSteps: number
  readonly month: Uint8Array
  readonly hours: Float64Array
}

/** What lies between an option's inverters and the meter: household, network, wiring (E2, C5). */
export interface Meter {
  /** What the household draws, kW, a value a step; null: not given, nothing counts as self-used. */
  readonly loadKw: Float64Array | null
  /** Part of that load the option's phases can meet at once, [0, 1]. */
  readonly loadReach: number
  /** kW; null: none. */
  readonly exportLimitKw: number | null
  readonly acWiringLoss: number
}

/** A year's energy by month and by loss, kWh, January first; ideal = delivered + every loss. */
export interface MonthStages {
  readonly idealKwh: Float64Array
  readonly lossKwh: Readonly<Record<DesignLoss, Float64Array>>
  /** Part of each loss that the household would have used itself. */
  readonly lossSelfUsedKwh: Readonly<Record<DesignLoss, Float64Array>>
  /** Part of each loss that the export limit would have cut anyway. */
  readonly lossUnpaidKwh: Readonly<Record<DesignLoss, Float64Array>>
  readonly deliveredKwh: Float64Array
  readonly deliveredSelfUsedKwh: Float64Array
}

/** Power of all devices of an option before and after their limits, kW at their terminals, a value a step. */
export interface AcPower {
  readonly unlimitedKw: Float64Array
  readonly limitedKw: Float64Array
}

/**
 * Power of an option's devices with and without their AC limit (E2, E3): each device limits what reaches it alone.
 *
 * @param devices - the option's devices
 * @param nSteps - steps of the year
 * @param factor - share of the DC power of year 0 that is available, [0, 1]: age, or a part that is down
 * @param clippingUplift - factor on what is clipped, >= 1
 * @returns two columns; limited <= unlimited
 */
export function acPower(devices: readonly Device[], nSteps: number, factor: number, clippingUplift: number): AcPower {
  const unlimitedKw = new Float64Array(nSteps)
  const limitedKw = new Float64Array(nSteps)
  for (const device of devices) addDevice(device, factor, clippingUplift, unlimitedKw, limitedKw)
  return { unlimitedKw, limitedKw }
}

function addDevice(
  { dcKw, acKw, curveKw, curve, units }: Device,
  factor: number,
  uplift: number,
  unlimitedKw: Float64Array,
  limitedKw: Float64Array,
): void {
  const limit = acKw ?? Number.POSITIVE_INFINITY
  const { k0, k1, k2 } = curve
  for (let step = 0; step < dcKw.length; step++) {
    const power = curveKw * acShare(((dcKw[step] ?? 0) * factor) / curveKw, k0, k1, k2)
    const clipped = power > limit ? Math.min(power, (power - limit) * uplift) : 0
    unlimitedKw[step] = (unlimitedKw[step] ?? 0) + units * power
    limitedKw[step] = (limitedKw[step] ?? 0) + units * (power - clipped)
  }
}

/** Power of an option on its way from roof to meter, kW, a value a step each. */
export interface PowerOnItsWay {
  /** Without shade and mismatch. */
  readonly idealKw: Float64Array
  /** After shade and mismatch. */
  readonly harvestKw: Float64Array
  /** After conversion, before the limit of the inverters and the AC wiring. */
  readonly unlimitedKw: Float64Array
  /** After the limit of the inverters, before the AC wiring. */
  readonly limitedKw: Float64Array
}

/**
 * Power of an option's devices on its way (E2, E3) at an age of the panels.
 *
 * @param idealKw - DC power without shade and mismatch in year 0, a value a step
 * @param devices - the option's devices
 * @param clippingUplift - factor on what is clipped, >= 1
 * @param factor - share of year 0 that the panels still give, (0, 1]
 * @returns four columns
 */
export function powerOnItsWay(
  idealKw: Float64Array,
  devices: readonly Device[],
  clippingUplift: number,
  factor: number,
): PowerOnItsWay {
  const harvestKw = new Float64Array(idealKw.length)
  for (const { harvestKw: ofOne, units } of devices) addScaled(harvestKw, ofOne, units, factor)
  return {
    idealKw: scaled(idealKw, factor),
    harvestKw,
    ...acPower(devices, idealKw.length, factor, clippingUplift),
  }
}

/**
 * Where a year's energy goes between roof and meter, by month and cause (E2, E3, C5, C7). At every step
 * ideal → shade and mismatch → conversion and wiring → clipping → export limit → delivered.
 *
 * @param steps - months and hours
 * @param on - the option's power on its way
 * @param meter - household, network, wiring
 * @returns energies by calendar month
 */
export function monthStages(steps: YearSteps, on: PowerOnItsWay, meter: Meter): MonthStages {
  const stages = emptyStages()
  const { loadKw, loadReach, exportLimitKw } = meter
  const wired = 1 - meter.acWiringLoss
  const load = loadKw ?? new Float64Array(steps.nSteps)
  const reached = scaled(load, loadReach)
  const ceiling = exportLimitKw === null ? null : plus(reached, exportLimitKw)
  const harvest = { kw: on.harvestKw, load }
  const unlimited = { kw: scaled(on.unlimitedKw, wired), load: reached }
  const limited = { kw: scaled(on.limitedKw, wired), load: reached }
  const delivered = {
    kw: ceiling === null ? limited.kw : smaller(limited.kw, ceiling),
    load: reached,
  }
  const add = (loss: DesignLoss, before: Stage, after: Stage): void => {
    addLoss(steps, before, after, stages.lossKwh[loss], stages.lossSelfUsedKwh[loss])
    if (ceiling !== null) addUnpaid(steps, before.kw, after.kw, ceiling, stages.lossUnpaidKwh[loss])
  }
  add('shadeAndMismatch', { kw: on.idealKw, load }, harvest)
  // what comes out of an inverter meets the load of its phases only
  add('conversion', harvest, unlimited)
  add('clipping', unlimited, limited)
  add('exportLimit', limited, delivered)
  const nothing = { kw: new Float64Array(steps.nSteps), load }
  addLoss(steps, { kw: on.idealKw, load }, nothing, stages.idealKwh, null)
  addLoss(steps, delivered, nothing, stages.deliveredKwh, stages.deliveredSelfUsedKwh)
  return stages
}

// Plain loops: `map` with a function costs several times as much until it is compiled, and the first year is most of the
// cost of a run.
function scaled(kw: Float64Array, factor: number): Float64Array {
  const out = new Float64Array(kw.length)
  for (let step = 0; step < kw.length; step++) out[step] = (kw[step] ?? 0) * factor
  return out
}

function plus(kw: Float64Array, more: number): Float64Array {
  const out = new Float64Array(kw.length)
  for (let step = 0; step < kw.length; step++) out[step] = (kw[step] ?? 0) + more
  return out
}

function smaller(kw: Float64Array, most: Float64Array): Float64Array {
  const out = new Float64Array(kw.length)
  for (let step = 0; step < kw.length; step++) out[step] = Math.min(kw[step] ?? 0, most[step] ?? 0)
  return out
}

function addScaled(sum: Float64Array, kw: Float64Array, units: number, factor: number): void {
  for (let step = 0; step < sum.length; step++) sum[step] = (sum[step] ?? 0) + units * (kw[step] ?? 0) * factor
}

/** Power at a place between roof and meter, and the load that can use it there, kW, a value a step each. */
interface Stage {
  readonly kw: Float64Array
  readonly load: Float64Array
}

/**
 * Adds what is lost from one stage to the next, and the part of it that the household would have used, month by month.
 */
function addLoss(
  { nSteps, month, hours }: YearSteps,
  before: Stage,
  after: Stage,
  kwh: Float64Array,
  selfUsedKwh: Float64Array | null,
): void {
  for (let step = 0; step < nSteps; step++) {
    const at = month[step] ?? 0
    const long = hours[step] ?? 0
    const had = before.kw[step] ?? 0
    const has = after.kw[step] ?? 0
    kwh[at] = (kwh[at] ?? 0) + (had - has) * long
    if (selfUsedKwh === null) continue
    const used = Math.min(had, before.load[step] ?? 0) - Math.min(has, after.load[step] ?? 0)
    selfUsedKwh[at] = (selfUsedKwh[at] ?? 0) + used * long
  }
}

/** Adds the part of a loss above what can be used and sold. */
function addUnpaid(
  { nSteps, month, hours }: YearSteps,
  beforeKw: Float64Array,
  afterKw: Float64Array,
  ceilingKw: Float64Array,
  unpaidKwh: Float64Array,
): void {
  for (let step = 0; step < nSteps; step++) {
    const at = month[step] ?? 0
    const ceiling = ceilingKw[step] ?? 0
    const over = Math.max(0, (beforeKw[step] ?? 0) - ceiling) - Math.max(0, (afterKw[step] ?? 0) - ceiling)
    unpaidKwh[at] = (unpaidKwh[at] ?? 0) + over * (hours[step] ?? 0)
  }
}

function emptyStages(): MonthStages {
  const months = (): Float64Array => new Float64Array(MONTHS_PER_YEAR)
  const losses = (): Record<DesignLoss, Float64Array> => ({
    clipping: months(),
    shadeAndMismatch: months(),
    conversion: months(),
    exportLimit: months(),
  })
  return {
    idealKwh: months(),
    lossKwh: losses(),
    lossSelfUsedKwh: losses(),
    lossUnpaidKwh: losses(),
    deliveredKwh: months(),
    deliveredSelfUsedKwh: months(),
  }
}

/** Sum of a year, kWh. */
export function yearKwh(months: Float64Array): number {
  return sumOf(months)
}
