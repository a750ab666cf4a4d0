import { FAILURE_EFFECTS } from '../../simulation/sums/failure-effects.ts'
import type { OptionDraws, SumLayout } from '../../simulation/sums/sum-layout.ts'
import { errorOfSetSums } from '../means/set-sums-error.ts'
import type { SharpFigure, SharpMeans } from '../means/sharp-means.ts'

/** The results of the draws of one option, with means and their errors (X2). */
export class OptionRun {
  readonly draws: OptionDraws
  readonly layout: SumLayout
  /** Nothing is unknown: one parameter set for all draws. */
  readonly oneSet: boolean
  readonly #sharp: SharpMeans | null
  /** Counts of failures have plain means (X3): controls would hide what the self-check looks for. */
  readonly #plain: ReadonlySet<number>

  /**
   * @param draws - merged blocks
   * @param layout - of their sums
   * @param oneSet - nothing is unknown
   * @param sharp - weights that sharpen means (X3); null: they are plain
   */
  constructor(draws: OptionDraws, layout: SumLayout, oneSet: boolean, sharp: SharpMeans | null = null) {
    this.draws = draws
    this.layout = layout
    this.oneSet = oneSet
    this.#sharp = sharp
    const ofPopulations = Array.from({ length: layout.populations }, (_, population) => [
      layout.ofPopulation(population, 'failures'),
      layout.ofPopulation(population, 'firstFailures'),
      layout.ofPopulation(population, 'plannedReplacements'),
    ])
    const ofOption = ['failures', 'noVisit', ...FAILURE_EFFECTS] as const
    this.#plain = new Set([...ofOption.map(figure => layout.of(figure)), ...ofPopulations.flat()])
  }

  /** Rows of sums: parameter sets played, or as many parts of the draws where means are sharpened. */
  get sets(): number {
    return this.draws.setSums.length / this.layout.length
  }

  /**
   * Sums of a figure by parameter set.
   *
   * @param place - from the layout
   */
  setSums(place: number): Float64Array {
    return Float64Array.from(
      { length: this.sets },
      (_, set) => this.draws.setSums[set * this.layout.length + place] ?? 0,
    )
  }

  /**
   * Mean of a figure over all draws, sharpened where it can be.
   *
   * @param place - from the layout
   */
  mean(place: number): number {
    return this.#sharpAt(place)?.mean ?? this.#plainMean(place)
  }

  /**
   * A figure as differences and their errors need it (X3).
   *
   * @param place - from the layout
   * @returns null where means are plain
   */
  sharpFigure(place: number): SharpFigure | null {
    return this.#sharp === null || this.#plain.has(place) ? null : this.#sharp.figure(this.setSums(place), this.oneSet)
  }

  /**
   * Means by year, sharpened where they can be.
   *
   * @param figure - cash, undiscounted, or present value of all that fell in the year
   */
  meanByYear(figure: 'cash' | 'present'): number[] {
    return Array.from(this.draws.byYear[figure], (sum, year) =>
      this.#sharp === null ? sum / this.draws.draws : this.mean(this.layout.ofYear(figure, year)),
    )
  }

  /** Mean energy lost to outages by calendar month, kWh, sharpened where it can be. */
  lostByMonth(): number[] {
    return Array.from(this.draws.lostByMonthKwh, (sum, month) =>
      this.#sharp === null ? sum / this.draws.draws : this.mean(this.layout.ofMonth(month)),
    )
  }

  /** The sharpened mean; null where it stays plain. */
  #sharpAt(place: number): { readonly mean: number } | null {
    if (this.#sharp === null || this.#plain.has(place)) return null
    return { mean: this.#sharp.mean(this.setSums(place)) }
  }

  #plainMean(place: number): number {
    let sum = 0
    for (let i = place; i < this.draws.setSums.length; i += this.layout.length) sum += this.draws.setSums[i] ?? 0
    return sum / this.draws.draws
  }

  /**
   * Standard error of the mean of a figure (X2).
   *
   * @param place - from the layout
   */
  standardError(place: number): number {
    const { draws, squares } = this.draws
    const sharp = this.sharpFigure(place)
    if (sharp !== null) return sharp.standardError
    return this.oneSet
      ? errorOfDraws(this.#plainMean(place) * draws, squares[place] ?? 0, draws)
      : errorOfSetSums(this.setSums(place), draws)
  }

  /** Mean and standard error of a figure. */
  estimate(place: number): { mean: number; standardError: number } {
    return { mean: this.mean(place), standardError: this.standardError(place) }
  }
}

/** s/√n, X2 where nothing is unknown. */
function errorOfDraws(sum: number, squares: number, draws: number): number {
  if (draws < 2) return 0
  const variance = (squares - (sum * sum) / draws) / (draws - 1)
  // the variance of a figure that never varies is rounding
  return variance <= 1e-14 * (squares / draws) ? 0 : Math.sqrt(variance / draws)
}
