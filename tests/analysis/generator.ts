/** Random numbers for tests, independent of the program's. */

/** A small generator of uniform numbers in [0, 1). */
export function uniforms(seed: number): () => number {
  let state = seed
  return () => {
    state = (state + 0x6d2b79f5) | 0
    let mixed = Math.imul(state ^ (state >>> 15), 1 | state)
    mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), 61 | mixed)) ^ mixed
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4294967296
  }
}

/** A Poisson count, by the times between arrivals. */
export function poisson(random: () => number, mean: number): number {
  let count = -1
  for (let at = 0; at < mean; count++) at -= Math.log(1 - random())
  return count
}

/** A gamma number of whole shape and mean 1: a mean of exponentials. */
export function gammaOfMean1(random: () => number, shape: number): number {
  let sum = 0
  for (let i = 0; i < shape; i++) sum -= Math.log(1 - random())
  return sum / shape
}
