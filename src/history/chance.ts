/**
 * Chance that belongs to a model or a provider, not to an option: the same in every option (M4, M8, W5).
 */
import { ReusableStream, type StreamKey } from '../numerics/random/streams.ts'
import type { ProviderExits } from './provider-exits.ts'

// memory that is reused from draw to draw
const stream = new ReusableStream()

/**
 * Whether a bad batch struck a model in a draw (M4).
 *
 * @param key - stream of the model's batch
 * @param draw - number of the draw
 * @param chance - [0, 1]
 */
export function batchStruck(key: StreamKey, draw: number, chance: number): boolean {
  return chance > 0 && stream.open(key, draw).uniform() < chance
}

/**
 * The uniform number that decides whether something is bought later in a draw (C8).
 *
 * @param key - stream of the purchase's name
 * @param draw - number of the draw
 * @returns [0, 1)
 */
export function laterUniform(key: StreamKey, draw: number): number {
  return stream.open(key, draw).uniform()
}

/**
 * When a model goes out of production (M8).
 *
 * @param key - stream of the model's production
 * @param draw - number of the draw
 * @param chance - points (age of the design in years, share of models out of production), ascending; 0 at age 0
 * @param oldestAgeYears - age of the model's oldest unit at the start, years
 * @returns moment, years after the start; negative if before it; Infinity if never
 */
export function endOfProduction(
  key: StreamKey,
  draw: number,
  chance: readonly (readonly [ageYears: number, share: number])[],
  oldestAgeYears: number,
): number {
  const uniform = stream.open(key, draw).uniform()
  let fromAge = 0
  let fromShare = 0
  for (const [age, share] of chance) {
    if (uniform <= share) {
      const along = share === fromShare ? 1 : (uniform - fromShare) / (share - fromShare)
      return fromAge + along * (age - fromAge) - oldestAgeYears
    }
    fromAge = age
    fromShare = share
  }
  return Infinity
}

/**
 * Draws the moments up to the horizon at which a provider of one name leaves (W5): a Poisson process.
 *
 * @param key - stream of the provider's name
 * @param draw - number of the draw
 * @param ratePerYear - >= 0
 * @param horizonYears - years
 * @param exits - added to; the lifetime has none yet
 * @param lane - the lifetime
 */
export function drawExits(
  key: StreamKey,
  draw: number,
  ratePerYear: number,
  horizonYears: number,
  exits: ProviderExits,
  lane: number,
): void {
  if (ratePerYear <= 0) return
  stream.open(key, draw)
  let at = stream.exponential() / ratePerYear
  if (at > horizonYears) return
  exits.open(lane)
  for (; at <= horizonYears; at += stream.exponential() / ratePerYear) exits.add(at)
}
