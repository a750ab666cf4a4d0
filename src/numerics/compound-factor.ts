/** Table cells a year. Ours: with them the error of five terms of the series is under 1e-12 up to 40 % a year. */
const CELLS = 16

/**
 * Growth or discount at a steady rate, exp(rate·t) (C2, C4): from a table of moments a sixteenth of a year apart and a
 * few terms of the series from there, or, without a table, by the exponential itself.
 *
 * @source e^x = Σ xᵏ/k!: Abramowitz & Stegun (1964), 4.2.1
 */
export class CompoundFactor {
  /** Logarithm of the growth a year; negative for a discount. */
  readonly rate: number
  readonly #table: Float64Array | null

  /**
   * @param rate - ln of the factor a year
   * @param years - the table reaches from 0 to this; 0: no table
   */
  constructor(rate: number, years = 0) {
    this.rate = rate
    this.#table =
      years === 0 || Math.abs(rate) > 0.35
        ? null
        : Float64Array.from({ length: years * CELLS + 1 }, (_, i) => Math.exp((rate * i) / CELLS))
  }

  /**
   * The factor at a moment.
   *
   * @param years - t, >= 0
   * @returns exp(rate·t), relative error under 1e-12; 1 at rate 0
   */
  at(years: number): number {
    const { rate } = this
    if (rate === 0) return 1
    const table = this.#table
    const cell = Math.floor(years * CELLS)
    if (table === null || !(cell < table.length)) return Math.exp(rate * years)
    const x = rate * (years - cell / CELLS)
    return (table[cell] as number) * (1 + x * (1 + x * (1 / 2 + x * (1 / 6 + x * (1 / 24 + x / 120)))))
  }
}
