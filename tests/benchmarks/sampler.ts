import jstat from 'jstat'

/** The sampling functions of jstat that the plain loop uses; they draw from Math.random. */
interface Sampler {
  readonly uniform: { sample(low: number, high: number): number }
  readonly normal: { sample(mean: number, sd: number): number }
  readonly exponential: { sample(rate: number): number }
  readonly weibull: { sample(lifeYears: number, shape: number): number }
  readonly gamma: { sample(shape: number, scale: number): number }
}

/** jstat as a sampler: the library ships no types, and the program itself never samples with it. */
export const sampler = jstat as unknown as Sampler
