import { DAYS_PER_YEAR, MONTHS_PER_YEAR } from '../../units.ts'

/** Days of a year, and one more for the end of the horizon. */
const DAYS = DAYS_PER_YEAR + 1

/** Growth series kept: a run needs a few often, and many only once. Ours. */
const GROWTHS_KEPT = 8

/** The months of the horizon: when each begins, which one contains a moment, how prices grow to its middle. */
export class MonthClock {
  readonly months: number
  /** Start of every month, and the horizon, years. */
  readonly starts: Float64Array
  /** Middle of every month, years. */
  readonly middles: Float64Array
  readonly #monthOfDay = new Uint8Array(DAYS)
  readonly #growths = new Map<number, Float64Array>()

  /**
   * @param monthStart - start of each month within a model year, 13 values, years
   * @param horizonYears - years
   */
  constructor(monthStart: Float64Array, horizonYears: number) {
    this.months = MONTHS_PER_YEAR * horizonYears
    this.starts = new Float64Array(this.months + 1)
    this.middles = new Float64Array(this.months)
    for (let month = 0; month <= this.months; month++) {
      const year = Math.floor(month / MONTHS_PER_YEAR)
      const monthOfYear = month % MONTHS_PER_YEAR
      const start = monthStart[monthOfYear] ?? 0
      this.starts[month] = year + start
      if (month < this.months) this.middles[month] = year + (start + (monthStart[monthOfYear + 1] ?? 1)) / 2
    }
    let month = 0
    for (let day = 0; day < DAYS; day++) {
      if (month < MONTHS_PER_YEAR - 1 && (day + 0.5) / DAYS_PER_YEAR > (monthStart[month + 1] ?? 1)) month++
      this.#monthOfDay[day] = month
    }
  }

  /**
   * Month that contains a moment; months begin with a day.
   *
   * @param years - [0, horizon]
   * @returns month from the start; the last one at the horizon
   */
  at(years: number): number {
    const year = Math.floor(years)
    const day = Math.floor((years - year) * DAYS_PER_YEAR)
    return Math.min(MONTHS_PER_YEAR * year + (this.#monthOfDay[day] as number), this.months - 1) // every day has a month
  }

  /**
   * Growth, or discount, to the middle of every month.
   *
   * @param rate - ln of the factor a year
   * @returns exp(rate·middle) by month; not to be changed
   */
  growth(rate: number): Float64Array {
    const known = this.#growths.get(rate)
    if (known !== undefined) return known
    if (this.#growths.size >= GROWTHS_KEPT) this.#forgetOldest()
    const growth = this.#grow(rate)
    this.#growths.set(rate, growth)
    return growth
  }

  /** Products of a factor of the year and one of the month: 37 exponentials instead of 300 for 25 years. */
  #grow(rate: number): Float64Array {
    const inYear = this.middles.subarray(0, MONTHS_PER_YEAR).map(middle => Math.exp(rate * middle))
    const growth = new Float64Array(this.months)
    for (let first = 0; first < this.months; first += MONTHS_PER_YEAR) {
      const ofYear = Math.exp((rate * first) / MONTHS_PER_YEAR)
      for (let month = 0; month < MONTHS_PER_YEAR; month++) growth[first + month] = ofYear * (inYear[month] as number) // every month has one
    }
    return growth
  }

  #forgetOldest(): void {
    const [oldest] = this.#growths.keys()
    if (oldest !== undefined) this.#growths.delete(oldest)
  }
}

/** The latest clock of each calendar; all options of a run share it. */
const latest = new WeakMap<Float64Array, { readonly horizonYears: number; readonly clock: MonthClock }>()

/**
 * The clock of a run.
 *
 * @param monthStart - of its calendar, 13 values, years
 * @param horizonYears - years
 */
export function monthClock(monthStart: Float64Array, horizonYears: number): MonthClock {
  const known = latest.get(monthStart)
  if (known?.horizonYears === horizonYears) return known.clock
  const clock = new MonthClock(monthStart, horizonYears)
  latest.set(monthStart, { horizonYears, clock })
  return clock
}
