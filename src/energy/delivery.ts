import { MONTHS_PER_YEAR } from '../units.ts'
import { acShareOf } from './conversion-curve.ts'
import type { Device } from './harvest.ts'
import type { DesignLoss } from './option-energy.ts'

/** The steps of a year: which month each belongs to and how many hours it stands for. */
export interface YearSteps {
  readonly nSteps: number
  readonly month: Uint8Array
  readonly hours: Float64Array
}

/** What stands between an option's inverters and the money: household, network, wiring (E2, C5). */
export interface Meter {
  /** What the household draws, kW, a value a step; null: not told, nothing counts as self-used. */
  readonly loadKw: Float64Array | null
  /** Part of that load the option's phases can meet at once, [0, 1]. */
  readonly loadReach: number
  /** kW; null: none. */
  readonly exportLimitKw: number | null
  readonly acWiringLoss: number
}

/** A year's energy by month and where it went, kWh, January first; ideal = delivered + every loss. */
export interface MonthStages {
  readonly idealKwh: Float64Array
  readonly lossKwh: Readonly<Record<DesignLoss, Float64Array>>
  /** What of each loss the household would have used itself. */
  readonly lossSelfUsedKwh: Readonly<Record<DesignLoss, Float64Array>>
  /** What of each loss the export limit would have cut anyway. */
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
 * @param factor - share of the DC power of year 0 that is there, [0, 1]: age, or a part that is down
 * @param clippingUplift - factor on what is clipped, >= 1
 * @returns two columns; limited <= unlimited
 */
export function acPower(devices: readonly Device[], nSteps: number, factor: number, clippingUplift: number): AcPower {
  const unlimitedKw = new Float64Array(nSteps)
  const limitedKw = new Float64Array(nSteps)
  for (const { dcKw, acKw, curveKw, curve, units } of devices) {
    const limit = acKw ?? Number.POSITIVE_INFINITY
    for (let step = 0; step < nSteps; step++) {
      const power = curveKw * acShareOf(((dcKw[step] ?? 0) * factor) / curveKw, curve)
      const clipped = power > limit ? Math.min(power, (power - limit) * clippingUplift) : 0
      unlimitedKw[step] = (unlimitedKw[step] ?? 0) + units * power
      limitedKw[step] = (limitedKw[step] ?? 0) + units * (power - clipped)
    }
  }
  return { unlimitedKw, limitedKw }
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
  for (const device of devices) {
    for (let step = 0; step < idealKw.length; step++) {
      harvestKw[step] = (harvestKw[step] ?? 0) + device.units * (device.harvestKw[step] ?? 0) * factor
    }
  }
  return {
    idealKw: idealKw.map(kw => kw * factor),
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
  const columns = columnsOf(stages)
  const wired = 1 - meter.acWiringLoss
  const power = new Float64Array(STAGES)
  for (let step = 0; step < steps.nSteps; step++) {
    const load = meter.loadKw?.[step] ?? 0
    const limited = wired * (on.limitedKw[step] ?? 0)
    power[0] = on.idealKw[step] ?? 0
    power[1] = on.harvestKw[step] ?? 0
    power[2] = wired * (on.unlimitedKw[step] ?? 0)
    power[3] = limited
    power[4] = Math.min(limited, most(meter, load))
    addStep(columns, steps.month[step] ?? 0, steps.hours[step] ?? 0, power, load, meter)
  }
  return stages
}

/** The losses in the order in which power passes them. */
const ORDER: readonly DesignLoss[] = ['shadeAndMismatch', 'conversion', 'clipping', 'exportLimit']
const STAGES = ORDER.length + 1

/** First stage that comes out of an inverter, and so on the inverter's phases only. */
const FIRST_AC_STAGE = 2

/** The columns of the stages in the order of `ORDER`, for the loop over steps. */
interface Columns {
  readonly ideal: Float64Array
  readonly lost: readonly Float64Array[]
  readonly selfUsed: readonly Float64Array[]
  readonly unpaid: readonly Float64Array[]
  readonly delivered: Float64Array
  readonly deliveredSelfUsed: Float64Array
}

function columnsOf(stages: MonthStages): Columns {
  return {
    ideal: stages.idealKwh,
    lost: ORDER.map(loss => stages.lossKwh[loss]),
    selfUsed: ORDER.map(loss => stages.lossSelfUsedKwh[loss]),
    unpaid: ORDER.map(loss => stages.lossUnpaidKwh[loss]),
    delivered: stages.deliveredKwh,
    deliveredSelfUsed: stages.deliveredSelfUsedKwh,
  }
}

function addStep(
  columns: Columns,
  month: number,
  hours: number,
  power: Float64Array,
  load: number,
  meter: Meter,
): void {
  const ceiling = most(meter, load)
  let before = power[0] ?? 0
  let usedBefore = Math.min(before, load)
  let overBefore = Math.max(0, before - ceiling)
  addTo(columns.ideal, month, before * hours)
  for (let stage = 1; stage < STAGES; stage++) {
    const after = power[stage] ?? 0
    const used = Math.min(after, stage < FIRST_AC_STAGE ? load : load * meter.loadReach)
    const over = Math.max(0, after - ceiling)
    addTo(columns.lost[stage - 1], month, (before - after) * hours)
    addTo(columns.selfUsed[stage - 1], month, (usedBefore - used) * hours)
    addTo(columns.unpaid[stage - 1], month, (overBefore - over) * hours)
    before = after
    usedBefore = used
    overBefore = over
  }
  addTo(columns.delivered, month, before * hours)
  addTo(columns.deliveredSelfUsed, month, usedBefore * hours)
}

function addTo(column: Float64Array | undefined, month: number, kwh: number): void {
  if (column !== undefined) column[month] = (column[month] ?? 0) + kwh
}

/** Most power that can be used or let out at a moment, kW. */
function most(meter: Meter, load: number): number {
  return meter.exportLimitKw === null ? Number.POSITIVE_INFINITY : load * meter.loadReach + meter.exportLimitKw
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
  return months.reduce((sum, kwh) => sum + kwh, 0)
}
