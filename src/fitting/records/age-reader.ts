import { show } from '../../input/problems.ts'
import type { AgeUnit } from '../age-unit.ts'
import type { ColumnName } from './columns.ts'
import { ageFromDays, dayNumber } from './dates.ts'
import { RowProblem } from './row-problem.ts'

/** Dates remembered, so that each is read once (ours: 500 years of days). */
const MOST_DAYS = 200_000

/** Ages above 0 that a unit can have, in whatever unit they are given. Ours: half a minute in years, 100,000 years in hours. */
const LEAST_AGE = 1e-6
const MOST_AGE = 1e9

/** Reads ages and dates as people write them. */
export class AgeReader {
  readonly #ageUnit: AgeUnit
  readonly #decimalComma: boolean
  readonly #days = new Map<string, number | null>()

  constructor(ageUnit: AgeUnit, decimalComma: boolean) {
    this.#ageUnit = ageUnit
    this.#decimalComma = decimalComma
  }

  /**
   * A number.
   *
   * @param text - not empty
   * @returns NaN for anything that is no decimal number
   */
  number(text: string): number {
    const plain = this.#decimalComma ? text.replace(',', '.') : text
    // Number() reads 0x10 as 16 and '1_000' as NaN; the first character excludes words.
    return /^[-+.\d][\d.eE+-]*$/.test(plain) ? Number(plain) : Number.NaN
  }

  /**
   * A date.
   *
   * @param text - not empty
   * @returns days since 1970-01-01; null for anything that is no date
   */
  day(text: string): number | null {
    const known = this.#days.get(text)
    if (known !== undefined) return known
    const day = dayNumber(text)
    if (this.#days.size < MOST_DAYS) this.#days.set(text, day)
    return day
  }

  /**
   * An age as written, or a date counted from the day put into service.
   *
   * @param key - column, for the message
   * @param text - not empty
   * @param inServiceDay - NaN if not given
   * @returns age in the unit of the records, 0 or from a millionth to 10^9
   */
  age(key: ColumnName, text: string, inServiceDay: number): number | RowProblem {
    const age = this.number(text)
    if (!Number.isNaN(age)) {
      if (age === 0 || (age >= LEAST_AGE && age <= MOST_AGE)) return age
      if (age > 0)
        return new RowProblem(
          key,
          `${show(text)} cannot be an age in ${this.#ageUnit}; check the number and --age-unit`,
        )
      return new RowProblem(key, `${text} is no age; give ${this.#ageUnit} from 0 up`)
    }
    const day = this.day(text)
    if (day === null) {
      return new RowProblem(key, `${show(text)} is neither a number of ${this.#ageUnit} nor a date like 2021-04-30`)
    }
    if (Number.isNaN(inServiceDay)) {
      return new RowProblem(key, `${show(text)} is a date, which needs a date in in_service too`)
    }
    if (day < inServiceDay) return new RowProblem(key, `${text} lies before the date in in_service`)
    return ageFromDays(day - inServiceDay, this.#ageUnit)
  }
}
