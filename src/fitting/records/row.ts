import { nearest, show } from '../../input/problems.ts'
import type { AgeUnit } from '../age-unit.ts'
import { AgeReader } from './age-reader.ts'
import type { ColumnName, Columns } from './columns.ts'
import { ageFromDays, monthNumber } from './dates.ts'
import { RowProblem } from './row-problem.ts'

/** One row as read. */
export interface RecordRow {
  readonly startAge: number
  readonly afterAge: number
  /** Infinity: still working. */
  readonly beforeAge: number
  readonly count: number
  /** Month of installation; −1 if not given. */
  readonly month: number
  /** Day put into service, days since 1970-01-01; NaN if not given. */
  readonly inServiceDay: number
  /** The failure was seen on the very day of installation and counts as within its first day. */
  readonly onFirstDay: boolean
}

/** How rows are read. */
export interface RowSettings {
  readonly columns: Columns
  readonly ageUnit: AgeUnit
  /** Day on which units without `ended` were still working; null: each needs its own. */
  readonly asOfDay: number | null
  /** Numbers have a decimal comma (files with semicolons). */
  readonly decimalComma: boolean
}

/** Converts the fields of a row to numbers. Ages are kept; dates become ages counted from `in_service`. */
export class RowReader {
  readonly #columns: Columns
  readonly #settings: RowSettings
  readonly #ages: AgeReader

  constructor(settings: RowSettings) {
    this.#settings = settings
    this.#columns = settings.columns
    this.#ages = new AgeReader(settings.ageUnit, settings.decimalComma)
  }

  /**
   * Reads one row.
   *
   * @param fields - as they are in the line
   * @returns the row, or the first thing that is wrong with it
   */
  read(fields: readonly string[]): RecordRow | RowProblem {
    const { start_age, watched_from, count, outcome, failed_before, failed_after } = this.#columns
    const inServiceText = fieldAt(fields, this.#columns.in_service)
    const inService = inServiceText === '' ? Number.NaN : this.#ages.day(inServiceText)
    if (inService === null) {
      return new RowProblem('in_service', `${show(inServiceText)} is no date; write year-month-day like 2021-04-30`)
    }

    const startAge = this.#startAge(fieldAt(fields, start_age), fieldAt(fields, watched_from), inService)
    if (typeof startAge !== 'number') return startAge

    const countText = fieldAt(fields, count)
    const units = countText === '' ? 1 : this.#ages.number(countText)
    if (!(Number.isInteger(units) && units >= 1)) {
      return new RowProblem(
        'count',
        `${show(countText)} is no number of units; give a whole number from 1 up, or leave it empty for 1`,
      )
    }
    const given = readOutcome(fieldAt(fields, outcome))
    if (given instanceof RowProblem) return given

    const beforeText = fieldAt(fields, failed_before)
    const afterText = fieldAt(fields, failed_after)
    const span =
      beforeText !== ''
        ? this.#between(beforeText, afterText, startAge, inService, given)
        : this.#ended(fields, afterText, startAge, inService, given)
    if (span instanceof RowProblem) return span
    return {
      startAge,
      afterAge: span.afterAge,
      beforeAge: span.beforeAge,
      count: units,
      month: Number.isNaN(inService) ? -1 : monthNumber(inService),
      inServiceDay: inService,
      onFirstDay: span.onFirstDay,
    }
  }

  #startAge(startText: string, watchedText: string, inService: number): number | RowProblem {
    if (startText !== '') return this.#ages.age('start_age', startText, inService)
    if (watchedText === '') return 0
    // A watch that began before the unit was installed covers it from the start.
    const day = this.#ages.day(watchedText)
    if (day !== null && day < inService) return 0
    return this.#ages.age('watched_from', watchedText, inService)
  }

  #between(
    beforeText: string,
    afterText: string,
    startAge: number,
    inService: number,
    given: string,
  ): Span | RowProblem {
    if (given === 'working') {
      return new RowProblem(
        'outcome',
        'the unit is called working, but failed_before says that it failed; remove one of the two',
      )
    }
    const beforeAge = this.#ages.age('failed_before', beforeText, inService)
    if (typeof beforeAge !== 'number') return beforeAge
    const afterAge = afterText === '' ? startAge : this.#ages.age('failed_after', afterText, inService)
    if (typeof afterAge !== 'number') return afterAge
    if (afterAge >= beforeAge) {
      const than = afterText === '' ? `the start at ${short(startAge)}` : `failed_after ${afterText}`
      return new RowProblem('failed_before', `failed_before ${beforeText} must be later than ${than}`)
    }
    if (afterAge < startAge) {
      return new RowProblem(
        'failed_after',
        `failed_after ${afterText} is before the unit was first watched at ${short(startAge)}`,
      )
    }
    return { afterAge, beforeAge, onFirstDay: false }
  }

  #ended(
    fields: readonly string[],
    afterText: string,
    startAge: number,
    inService: number,
    given: string,
  ): Span | RowProblem {
    if (afterText !== '') {
      return new RowProblem(
        'failed_before',
        'failed_after is given without failed_before; say by when the unit had failed, or call it working with that as end_age',
      )
    }
    if (given === '') return new RowProblem('outcome', 'empty; write failed or working')
    const key: ColumnName = fieldAt(fields, this.#columns.end_age) !== '' ? 'end_age' : 'ended'
    const text = fieldAt(fields, this.#columns[key])
    const endAge = text === '' ? this.#untilAsOf(inService, given) : this.#ages.age(key, text, inService)
    if (typeof endAge !== 'number') return endAge
    if (endAge < startAge) {
      return new RowProblem(
        key,
        `the unit ends at ${short(endAge)} but is watched only from ${short(startAge)}; the end must be later`,
      )
    }
    if (given === 'working') return { afterAge: endAge, beforeAge: Infinity, onFirstDay: false }
    if (endAge === 0) {
      // Dates have a resolution of a day.
      if (!Number.isNaN(inService)) {
        return { afterAge: 0, beforeAge: ageFromDays(1, this.#settings.ageUnit), onFirstDay: true }
      }
      return new RowProblem(key, 'a failure at age 0 fits no curve; write by when it was found in failed_before')
    }
    if (endAge === startAge) {
      return new RowProblem(
        key,
        `the unit failed at ${short(endAge)}, the age at which it was first watched; give an earlier start or leave the row out`,
      )
    }
    return { afterAge: endAge, beforeAge: endAge, onFirstDay: false }
  }

  /** The age of a working unit on the day of `--as-of`. */
  #untilAsOf(inService: number, given: string): number | RowProblem {
    const { asOfDay, ageUnit } = this.#settings
    const dated = this.#columns.end_age < 0 && this.#columns.ended >= 0
    if (given === 'working' && asOfDay !== null && !Number.isNaN(inService)) {
      if (asOfDay < inService) return new RowProblem('in_service', 'the date lies after the day given by --as-of')
      return ageFromDays(asOfDay - inService, ageUnit)
    }
    if (!dated) return new RowProblem('end_age', 'empty; give the age at which it failed or last worked')
    if (given === 'failed') return new RowProblem('ended', 'empty; give the date on which it failed')
    return new RowProblem('ended', 'empty; give the date it was last known to work, or --as-of DATE for all such units')
  }
}

interface Span {
  readonly afterAge: number
  readonly beforeAge: number
  readonly onFirstDay: boolean
}

function fieldAt(fields: readonly string[], index: number): string {
  return index < 0 ? '' : (fields[index] ?? '').trim()
}

function readOutcome(text: string): 'failed' | 'working' | '' | RowProblem {
  if (text === 'failed' || text === 'working' || text === '') return text
  const plain = text.toLowerCase()
  if (plain === 'failed' || plain === 'working') return plain
  const guess = nearest(plain, ['failed', 'working'])
  const hint = guess === null ? '' : ` (did you mean ${guess}?)`
  return new RowProblem('outcome', `${show(text)} is not known; write failed or working${hint}`)
}

function short(age: number): string {
  return String(Number(age.toPrecision(6)))
}
