/** A simulated figure and its uncertainty: standard errors of means and of percentiles (X2). */

/** A simulated mean with its standard error, in the same unit. */
export interface Estimate {
  readonly mean: number
  readonly standardError: number
}

/** Standard error of each percentile of a figure, in its unit, >= 0 (X2). */
export type PercentileErrors<Name extends string> = Readonly<Record<Name, number>>

/** Spread of lifetime cost over draws, currency, present value. */
export interface CostSpread extends Estimate {
  readonly p5: number
  readonly p10: number
  readonly p50: number
  readonly p90: number
  readonly p95: number
  /** Mean of the dearest tenth of lifetimes. */
  readonly worstTenthMean: number
  readonly standardErrors: PercentileErrors<'p5' | 'p10' | 'p50' | 'p90' | 'p95' | 'worstTenthMean'>
}
