/** The few functions of jstat that `special.ts` uses; the library itself ships no types. */
declare module 'jstat' {
  const jStat: {
    readonly normal: {
      inv(p: number, mean: number, sd: number): number
      cdf(x: number, mean: number, sd: number): number
    }
    readonly gamma: { inv(p: number, shape: number, scale: number): number }
    readonly chisquare: { inv(p: number, degreesOfFreedom: number): number }
    lowRegGamma(a: number, x: number): number
  }
  export = jStat
}
