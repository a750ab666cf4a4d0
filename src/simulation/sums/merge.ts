import type { PaymentColumns } from './payments.ts'
import { emptyDraws, type OptionDraws } from './sum-layout.ts'

/**
 * Joins the blocks of one option one by one, so that at most one is held in addition to the whole. Sums are added in
 * the order of the blocks: the result does not depend on which thread played which (N3).
 */
export class BlockMerger {
  readonly #draws: number | null
  readonly #oneSet: boolean
  #played = 0
  #sets = 0
  readonly #payments: PaymentColumns[] = []
  #whole: OptionDraws | null = null

  /**
   * @param draws - of all blocks; null: not known yet
   * @param oneSet - nothing is unknown: the sums of all blocks belong to one parameter set
   */
  constructor(draws: number | null, oneSet: boolean) {
    this.#draws = draws
    this.#oneSet = oneSet
  }

  /** Adds the next block, in order of the draws. */
  add(block: OptionDraws): void {
    const needed = this.#played + block.draws
    if (this.#whole === null || this.#whole.draws < needed) {
      const larger = this.#roomFor(block, this.#draws ?? Math.max(2 * this.#played, needed))
      if (this.#whole !== null) copyInto(larger, this.#whole)
      this.#whole = larger
    }
    const whole = this.#whole
    for (const name of BY_DRAW) whole[name].set(block[name], block[name].length === 0 ? 0 : this.#played)
    if (this.#oneSet) {
      addTo(whole.setSums, block.setSums)
      whole.yearlyCost.set(block.yearlyCost)
    } else {
      whole.setSums.set(block.setSums, this.#sets * block.squares.length)
      whole.yearlyCost.set(block.yearlyCost, this.#sets)
    }
    for (const name of SUMMED) addTo(whole[name], block[name])
    for (const name of BY_YEAR) addTo(whole.byYear[name], block.byYear[name])
    this.#payments.push(...block.payments)
    this.#played += block.draws
    this.#sets += block.yearlyCost.length
  }

  /**
   * The sums of all blocks.
   *
   * @throws RangeError before all draws are added
   */
  whole(): OptionDraws {
    const draws = this.#draws ?? this.#played
    if (this.#whole === null || this.#played !== draws) {
      throw new RangeError(`${this.#played} of ${draws} draws are added`)
    }
    return this.#whole.draws === draws ? this.#whole : this.#cut(this.#whole)
  }

  /** The filled part of the columns. */
  #cut(whole: OptionDraws): OptionDraws {
    const cut: Mutable = { ...whole, draws: this.#played }
    for (const name of BY_DRAW) cut[name] = whole[name].subarray(0, Math.min(this.#played, whole[name].length))
    cut.setSums = whole.setSums.subarray(0, this.#sets * whole.squares.length)
    cut.yearlyCost = whole.yearlyCost.subarray(0, this.#sets)
    return cut
  }

  #roomFor(block: OptionDraws, draws: number): OptionDraws {
    const sets = this.#oneSet ? 1 : Math.round((draws * block.yearlyCost.length) / block.draws)
    const years = block.byYear.cash.length
    const inMoney = block.needInMoney.length > 0
    const populations = block.byYear.partsBill.length / years
    return emptyDraws(draws, sets, block.squares.length, years, inMoney, this.#payments, populations)
  }
}

type Mutable = { -readonly [Name in keyof OptionDraws]: OptionDraws[Name] }

/** Copies into larger columns. */
function copyInto(larger: OptionDraws, whole: OptionDraws): void {
  for (const name of BY_DRAW) larger[name].set(whole[name])
  larger.setSums.set(whole.setSums)
  larger.yearlyCost.set(whole.yearlyCost)
  for (const name of SUMMED) larger[name].set(whole[name])
  for (const name of BY_YEAR) larger.byYear[name].set(whole.byYear[name])
}

const BY_DRAW = ['lifetimeCost', 'lostKwh', 'need', 'needInMoney', 'largestYear', 'bill10To15'] as const
const SUMMED = ['squares', 'lostByMonthKwh', 'visitCounts'] as const
const BY_YEAR = [
  'failures',
  'firstFailed',
  'firstStopsEnergy',
  'firstMonitoringOnly',
  'firstBatteryOnly',
  'cash',
  'present',
  'partsBill',
  'promised',
  'wholeBill',
  'paid',
] as const

function addTo(sums: Float64Array, column: Float64Array): void {
  for (let i = 0; i < sums.length; i++) sums[i] = (sums[i] ?? 0) + (column[i] ?? 0)
}
