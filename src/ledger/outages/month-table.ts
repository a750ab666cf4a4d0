/**
 * The months of the horizon under one price of energy: what a lost share costs in each (T2, C5).
 */
import type { Accounts } from '../accounts.ts'

/** Numbers per month in a table; the next constants say what each is. */
export const WIDTH = 9
/** kWh a year at the pace of the month. */
export const PACE = 0
/** Discount in its middle. */
export const DISCOUNT = 1
/** Its middle, years. */
export const MIDDLE = 2
/** Value a year, discounted, of the linear part: three terms of the series around the middle. */
export const LINEAR = 3
/** The same of the cubic part. */
export const CUBIC = 6

/** Sums up to the start of a month: kWh, kWh discounted, value of the linear and of the cubic part. */
export const SUMS = 4
/** Place of the kWh among the sums. */
export const KWH = 0
/** Place of the discounted kWh. */
export const KWH_DISCOUNTED = 1

/**
 * What a lost share f costs month by month, f·V₁ + f³·V₃: within a month, growth and discount follow the first terms of
 * their series around its middle (error 1e-8 at 10 % a year).
 */
export interface MonthTable {
  /** By month: `WIDTH` numbers. */
  readonly numbers: Float64Array
  /** By month: `SUMS` sums up to its start. */
  readonly sums: Float64Array
  /** By month: by how much the linear and the cubic share lost over whole months rise there. */
  readonly whole: Float64Array
  /** One entry: 1 while `whole` has any. No plain field, since one that changes late is compiled anew; see `FIRST_ROOM`. */
  readonly used: Uint8Array
}

/**
 * Energy of a part of one month (T2).
 *
 * @param numbers - of the table
 * @param month - from the start
 * @param linear - of the lost share f, in the part that is proportional to f
 * @param from - start, years
 * @param to - end, years, within the month
 * @returns kWh
 */
export function kwhOfPart(numbers: Float64Array, month: number, linear: number, from: number, to: number): number {
  return linear * (numbers[WIDTH * month + PACE] as number) * (to - from) // the month is there
}

/**
 * Energy of whole months, discounted or not.
 *
 * @param table - of the months
 * @param what - KWH or KWH_DISCOUNTED
 * @param from - first month
 * @param to - month after the last
 * @returns kWh
 */
export function wholeMonths({ sums }: MonthTable, what: number, from: number, to: number): number {
  return (sums[SUMS * to + what] as number) - (sums[SUMS * from + what] as number) // the months have their entries
}

/**
 * Records a loss over whole months, for `settleWhole`.
 *
 * @param table - of the months
 * @param from - first month
 * @param to - month after the last
 * @param linear - of the lost share f, in the part of the value that is proportional to f
 * @param cubic - in the part that is proportional to f³
 */
export function markWhole(table: MonthTable, from: number, to: number, linear: number, cubic: number): void {
  const { whole } = table
  whole[2 * from] = (whole[2 * from] as number) + linear // the months have their entries
  whole[2 * from + 1] = (whole[2 * from + 1] as number) + cubic
  whole[2 * to] = (whole[2 * to] as number) - linear
  whole[2 * to + 1] = (whole[2 * to + 1] as number) - cubic
  table.used[0] = 1
}

/**
 * Value of a part of one month (T2).
 *
 * @param table - of the months
 * @param month - from the start
 * @param linear - of the lost share
 * @param cubic - of the lost share
 * @param from - start, years
 * @param to - end, years, within the month
 * @returns present value
 */
export function worthOfPart(
  { numbers }: MonthTable,
  month: number,
  linear: number,
  cubic: number,
  from: number,
  to: number,
): number {
  const i = WIDTH * month
  const u = (from + to) / 2 - (numbers[i + MIDDLE] as number) // the month has its entries
  return (to - from) * (linear * series(numbers, i + LINEAR, u) + cubic * series(numbers, i + CUBIC, u))
}

/**
 * Value of whole months.
 *
 * @param table - of the months
 * @param from - first month
 * @param to - month after the last
 * @param linear - of the lost share
 * @param cubic - of the lost share
 * @returns present value
 */
export function worthOfWhole({ sums }: MonthTable, from: number, to: number, linear: number, cubic: number): number {
  const i = SUMS * from
  const end = SUMS * to
  return (
    linear * ((sums[end + 2] as number) - (sums[i + 2] as number)) + // the months have their entries
    cubic * ((sums[end + 3] as number) - (sums[i + 3] as number))
  )
}

/**
 * Discount at a moment of a month.
 *
 * @param table - of the months
 * @param month - from the start
 * @param rate - ln of the discount factor a year
 * @param at - moment, years
 */
export function discountIn({ numbers }: MonthTable, month: number, rate: number, at: number): number {
  const i = WIDTH * month
  return (numbers[i + DISCOUNT] as number) * growthBy(rate * (at - (numbers[i + MIDDLE] as number))) // the month is there
}

/**
 * Enters the losses recorded over whole months by month, and clears the record.
 *
 * @param table - of the months
 * @param accounts - added to, by month
 */
export function settleWhole(table: MonthTable, { monthValue, monthKwh }: Accounts): void {
  if (table.used[0] === 0) return
  const { sums, whole } = table
  let linear = 0
  let cubic = 0
  for (let month = 0; month < monthKwh.length; month++) {
    linear += whole[2 * month] as number // every month has its entries
    cubic += whole[2 * month + 1] as number
    const i = SUMS * month
    const kwh = (sums[i + SUMS] as number) - (sums[i] as number)
    const byLinear = (sums[i + SUMS + 2] as number) - (sums[i + 2] as number)
    const byCubic = (sums[i + SUMS + 3] as number) - (sums[i + 3] as number)
    monthKwh[month] = (monthKwh[month] as number) + linear * kwh
    monthValue[month] = (monthValue[month] as number) + linear * byLinear + cubic * byCubic
  }
  whole.fill(0)
  table.used[0] = 0
}

/** The first four terms of e^x. */
function growthBy(x: number): number {
  return 1 + x * (1 + x * (1 / 2 + x / 6))
}

/** A series of three terms of the table. */
function series(table: Float64Array, i: number, u: number): number {
  const c0 = table[i] as number // within the table, as are the next two
  const c1 = table[i + 1] as number
  const c2 = table[i + 2] as number
  return c0 + u * (c1 + u * c2)
}
