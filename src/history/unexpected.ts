import { lognormalMean } from '../numerics/distributions/lognormal.ts'
import { DenseAges } from '../numerics/lives/dense-ages.ts'
import { NewUnitLife, type SeasonSums, seasonOf } from '../numerics/lives/new-unit-life.ts'
import { delayYears } from './downtime.ts'
import { comparedColumns, expectedFirst, failedBy, originalLife, type Stretches } from './expected-failures.ts'
import type { History } from './history.ts'
import type { DelayParameters, OptionParameters, UnitParameters } from './parameters.ts'
import { DETECT, NUMBERS, PLANNED, REPAIR, REPAIRED, REPLACED, RESPOND, type Rows } from './rows.ts'

const CYCLE = 2 * Math.PI

/** What is expected of a population in one parameter set. */
interface Expected {
  /** First failures of its original units by stretch: where no batch struck the model, and where one did. */
  readonly first: readonly [Float64Array, Float64Array]
  /** Life of a new unit where it is tabulated. */
  readonly life: NewUnitLife | null
  /** The same first failures by season; null where seasons are not compared. */
  readonly seasons: readonly [SeasonSums, SeasonSums] | null
  readonly delays: readonly { readonly delay: DelayParameters; readonly number: number; readonly mean: number }[]
}

/**
 * What happens in lifetimes less what is expected, population by population (X3): failures by stretch; where wanted also
 * the delays of failures, and failures by season. Each life is compared with the chance that it ends by failure in a
 * stretch, given when it began, and each delay with its mean; so the expected value of every figure is 0, whatever
 * detection, visits and terms do.
 */
export class Unexpected {
  readonly #stretches: Stretches
  readonly #columns: number
  #of: OptionParameters | null = null
  #expected: readonly Expected[] = []
  readonly #season: SeasonSums = { cosine: 0, sine: 0 }

  /** @param stretches - of the horizon */
  constructor(stretches: Stretches) {
    this.#stretches = stretches
    this.#columns = comparedColumns(stretches)
  }

  /**
   * Adds some lifetimes.
   *
   * @param parameters - the option
   * @param history - played
   * @param out - added to: populations × `comparedColumns`, row-major, lifetime after lifetime
   * @param apart - distance from a lifetime to the next; 0: all lifetimes are summed
   */
  add(parameters: OptionParameters, history: History, out: Float64Array, apart = 0): void {
    if (this.#of !== parameters) {
      this.#of = parameters
      this.#expected = parameters.units.map(unit => this.#expect(parameters, unit))
    }
    parameters.units.forEach((unit, i) => {
      const expected = this.#expected[i]
      const rows = history.rows[unit.place]
      if (expected === undefined || rows === undefined) return
      const at = unit.place * this.#columns
      this.#subtractFirst(unit, expected, history, out, apart, at)
      this.#addStretches(unit, expected, rows, out, apart, at)
      if (this.#stretches.finely) this.#addFinely(expected, rows, out, apart, at + this.#stretches.count)
    })
  }

  #expect({ monitoring }: OptionParameters, unit: UnitParameters): Expected {
    const { horizonYears, count, finely } = this.#stretches
    // a table is worth its making where one set has thousands of lifetimes, as are dense ages
    const life = unit.ages instanceof DenseAges ? new NewUnitLife(unit.modes, unit.multiplier, horizonYears) : null
    const spared = new Float64Array(count)
    expectedFirst(unit, this.#stretches, false, spared, 0)
    const struck = unit.batch === null ? spared : new Float64Array(count)
    if (unit.batch !== null) expectedFirst(unit, this.#stretches, true, struck, 0)
    const unplanned = unit.replaceAtAgeYears === Infinity
    return {
      first: [spared, struck],
      life,
      seasons: finely && unplanned && life?.holdsSeason ? seasonsOf(unit, horizonYears) : null,
      delays: finely ? delaysOf(monitoring, unit) : [],
    }
  }

  #subtractFirst(
    unit: UnitParameters,
    { first, seasons }: Expected,
    history: History,
    out: Float64Array,
    apart: number,
    at: number,
  ): void {
    const { count } = this.#stretches
    const struck = unit.batch === null ? undefined : history.struck[unit.model]
    for (let lane = 0; lane < history.n; lane++) {
      const which = struck?.[lane] === 1 ? 1 : 0
      const from = lane * apart + at
      const own = first[which]
      for (let stretch = 0; stretch < count; stretch++) add(out, from + stretch, -(own[stretch] as number)) // filled
      if (seasons === null) continue
      add(out, from + count + 1, -seasons[which].cosine)
      add(out, from + count + 2, -seasons[which].sine)
    }
  }

  /** The failures of a population by stretch, less what is expected of the lives that begin when its slots are back. */
  #addStretches(
    unit: UnitParameters,
    { life }: Expected,
    rows: Rows,
    out: Float64Array,
    apart: number,
    at: number,
  ): void {
    const { horizonYears, years, count } = this.#stretches
    const last = count - 1
    const plain = unit.repairRule === null
    const unplanned = unit.replaceAtAgeYears === Infinity
    for (let row = 0; row < rows.n; row++) {
      const from = (rows.lane[row] as number) * apart + at // the row is there
      if (rows.action[row] !== PLANNED) {
        add(out, from + Math.min(Math.floor((rows.failedAt[row] as number) / years), last), 1)
      }
      const begins = rows.returnedAt[row] as number
      if (begins >= horizonYears) continue
      const repaired = !plain && rows.action[row] === REPAIRED
      const lifeTimes = repaired && rows.hit[row] === 1 ? (unit.batch?.lifeTimes ?? 1) : 1
      const age = repaired ? (rows.ageAfter[row] as number) : 0
      const cured = repaired ? (rows.curedAfter[row] as number) : 0
      const planned = unplanned
        ? Infinity
        : Math.max(unit.replaceAtAgeYears - (repaired ? serviceAge(rows, row) : 0), 0)
      let before = 0
      for (let stretch = Math.min(Math.floor(begins / years), last); stretch <= last; stretch++) {
        const lived = Math.min(Math.min(years * (stretch + 1), horizonYears) - begins, planned)
        const failed = life === null || repaired ? failedBy(unit, age, lived, lifeTimes, cured) : life.failedBy(lived)
        add(out, from + stretch, before - failed)
        before = failed
      }
    }
  }

  /**
   * Delays less their means, whatever becomes of them; and failures by season, less what is expected of the lives that
   * begin. Lives after a repair are left out, with the failures that end them.
   */
  #addFinely({ delays, seasons, life }: Expected, rows: Rows, out: Float64Array, apart: number, at: number): void {
    const { horizonYears } = this.#stretches
    const { n, lane, before, action, failedAt, returnedAt, numbers } = rows
    const sums = this.#season
    for (let row = 0; row < n; row++) {
      const from = (lane[row] as number) * apart + at // the row is there
      if (action[row] !== PLANNED) {
        for (const { delay, number, mean } of delays) {
          add(out, from, delayYears(delay, numbers[NUMBERS * row + number] as number) - mean)
        }
      }
      if (seasons === null || life === null) continue
      const earlier = before[row] as number
      if (earlier < 0 || action[earlier] === REPLACED) {
        const turn = CYCLE * (failedAt[row] as number)
        add(out, from + 1, Math.cos(turn))
        add(out, from + 2, Math.sin(turn))
      }
      const begins = returnedAt[row] as number
      if (action[row] !== REPLACED || begins >= horizonYears) continue
      life.seasonBy(horizonYears - begins, sums)
      const cosine = Math.cos(CYCLE * begins)
      const sine = Math.sin(CYCLE * begins)
      add(out, from + 1, sine * sums.sine - cosine * sums.cosine)
      add(out, from + 2, 0 - sine * sums.cosine - cosine * sums.sine)
    }
  }
}

/**
 * Expected sums over the first failures of original units, weighted with the season: where no batch struck the model, and
 * where one did. null where they are not exact enough.
 */
function seasonsOf(unit: UnitParameters, horizonYears: number): Expected['seasons'] {
  const ofAll = (struck: boolean): SeasonSums | null => {
    const one = seasonOf(originalLife(unit, struck), horizonYears)
    return one && { cosine: unit.count * one.cosine, sine: unit.count * one.sine }
  }
  const spared = ofAll(false)
  const struck = unit.batch === null ? spared : ofAll(true)
  return spared && struck && [spared, struck]
}

/** The delays that vary, with the number that each reads and its mean. */
function delaysOf(monitoring: OptionParameters['monitoring'], unit: UnitParameters): Expected['delays'] {
  const detect = monitoring === 'never' && !unit.isGateway ? unit.detectUnmonitored : unit.detect
  return [
    { delay: detect, number: DETECT },
    { delay: unit.respond, number: RESPOND },
    { delay: unit.repair, number: REPAIR },
  ].flatMap(({ delay, number }) =>
    delay.factors === null ? [] : [{ delay, number, mean: lognormalMean(delay.medianYears, delay.factors.sigma) }],
  )
}

/** Age in service of a repaired unit when it is back (M6). */
function serviceAge(rows: Rows, row: number): number {
  const before = rows.before[row] as number // the row is there
  const startedAt = before < 0 ? 0 : (rows.returnedAt[before] as number)
  return (rows.serviceAge[row] as number) + (rows.failedAt[row] as number) - startedAt
}

function add(sums: Float64Array, i: number, amount: number): void {
  sums[i] = (sums[i] as number) + amount // every figure has its entry
}
