import { momentsOf, standardErrorOf } from '../../numerics/samples/moments.ts'
import { quantiles } from '../../numerics/samples/quantile.ts'
import { errorOfSetSums } from '../means/set-sums-error.ts'
import type { SharpFigure } from '../means/sharp-means.ts'
import { splitVariance, varianceShares } from '../option/variance-split.ts'
import type { Comparison, Verdict } from '../results/comparison.ts'
import { type Job, sameJob } from './same-job.ts'

/** Lifetime costs of an option, as written or in another case. */
export interface Costs {
  /** By draw, in order. */
  readonly lifetimeCost: Float64Array
  /** Their mean, sharpened (X3); null: a plain mean. */
  readonly sharp: SharpFigure | null
}

/** One option as a comparison reads it. */
export interface Compared extends Costs {
  readonly id: string
  readonly upfrontCost: number
  /** Mean present cost by year, purchase and residual left out. */
  readonly presentByYear: Float64Array
  /** Upfront cost and warranty price. */
  readonly acquisition: number
  readonly job: Job
  /** Means: what the battery earns and outages take of it, present value; and that at 1 a day (O7). */
  readonly battery: { readonly earnings: number; readonly outage: number; readonly days: number }
}

/** A comparison without the figures of K4. */
export type PlainComparison = Omit<Comparison, 'verdictGrade' | 'turnedBy' | 'wideRun'>

/** The differences of a pair if tiers did not differ in reliability; null where no tier gap is played (U1c, K5). */
export type NullCases = Pick<Comparison, 'withTierEffect0' | 'withTierEffect0AndSpareAlike'>

/** Where no tier gap is played. */
export const NO_NULL_CASES: NullCases = { withTierEffect0: null, withTierEffect0AndSpareAlike: null }

/**
 * The dearer of two options to buy first, of equals the one listed later (K2).
 *
 * @param options - in the order of the scenario
 * @param one - place of an option
 * @param other - place of another
 * @returns both places
 */
export function dearerFirst(
  options: readonly { readonly upfrontCost: number }[],
  one: number,
  other: number,
): readonly [option: number, against: number] {
  const [earlier, later] = one < other ? [one, other] : [other, one]
  return (options[later]?.upfrontCost ?? 0) >= (options[earlier]?.upfrontCost ?? 0)
    ? [later, earlier]
    : [earlier, later]
}

/**
 * Compares every pair of options (K2, K3).
 *
 * @param options - in the order of the scenario
 * @param drawsPerSet - draws that share a parameter set
 * @param nullCasesOf - by pair: the same difference with tier effect 0, and with spares at one price too
 * @param judgementShare - by pair and difference: share of what is not known that rests on judgement (K4)
 * @returns pairs by id; what K4 adds is not in them
 */
export function comparePairs(
  options: readonly Compared[],
  drawsPerSet: number,
  nullCasesOf: (option: number, against: number) => NullCases,
  judgementShare: (options: readonly number[], differences: Float64Array) => number | null = () => null,
): PlainComparison[] {
  const pairs: PlainComparison[] = []
  for (let i = 0; i < options.length; i++) {
    for (let j = i + 1; j < options.length; j++) {
      const [one, other] = [options[i], options[j]]
      if (one === undefined || other === undefined) continue
      // K2: the dearer to buy is `option`; of equals the one listed later
      const laterIsDearer = other.upfrontCost >= one.upfrontCost
      const [dear, cheap] = laterIsDearer ? [other, one] : [one, other]
      const null0 = laterIsDearer ? nullCasesOf(j, i) : nullCasesOf(i, j)
      pairs.push(compare(dear, cheap, drawsPerSet, null0, differences => judgementShare([i, j], differences)))
    }
  }
  return pairs
}

function compare(
  option: Compared,
  against: Compared,
  drawsPerSet: number,
  nullCases: NullCases,
  judgementShare: (differences: Float64Array) => number | null,
): PlainComparison {
  const draws = option.lifetimeCost.length
  const differences = option.lifetimeCost.map((cost, draw) => cost - (against.lifetimeCost[draw] ?? 0))
  const { mean, standardError } = differenceOf(option, against, drawsPerSet)
  const split = splitVariance(differences, drawsPerSet)
  const means = drawnSetMeans(differences, drawsPerSet, mean, split)
  const [low = mean, high = mean] = quantiles(means, [0.05, 0.95])
  const reach = 1.645 * standardError
  const interval90: [number, number] = [low - reach, high + reach]
  const better = shareBelowZero(means)
  const upfront = option.upfrontCost - against.upfrontCost
  // before battery earnings: a cost less an income is no scale for a difference
  const lower = Math.min(...[option, against].map(one => meanOf(one) + one.battery.earnings))
  return {
    option: option.id,
    against: against.id,
    meanDifference: mean,
    standardError,
    interval90,
    chanceBetterOnAverage: better,
    chanceCheaper: shareBelowZero(differences, draws),
    breakEvenPremium: upfront - mean,
    breakEvenInterval90: [upfront - interval90[1], upfront - interval90[0]],
    verdict: sameJob(option.job, against.job) ? verdictOf(interval90, lower, mean, standardError, better) : null,
    aheadFromYear: aheadFrom(option, against),
    ...wouldHaveToEarn(option, against, mean),
    varianceShares: { ...varianceShares(split), judgementShare: judgementShare(differences) },
    ...nullCases,
  }
}

/**
 * Mean difference of the costs of two options and its standard error (X2, X3).
 *
 * @param one - of the first
 * @param other - of the second, of as many draws
 * @param drawsPerSet - draws that share a parameter set; all of them where nothing is unknown
 */
export function differenceOf(
  one: Costs,
  other: Costs,
  drawsPerSet: number,
): { readonly mean: number; readonly standardError: number } {
  if (one.sharp !== null && other.sharp !== null) return one.sharp.less(other.sharp)
  return pairedMean(
    one.lifetimeCost.map((cost, draw) => cost - (other.lifetimeCost[draw] ?? 0)),
    drawsPerSet,
  )
}

/**
 * Mean and standard error of a figure by draw (X2).
 *
 * @param values - one a draw
 * @param drawsPerSet - draws that share a parameter set; all of them where nothing is unknown
 */
export function pairedMean(values: Float64Array, drawsPerSet: number): { mean: number; standardError: number } {
  const moments = momentsOf(values)
  if (drawsPerSet >= values.length) return { mean: moments.mean, standardError: standardErrorOf(moments) }
  const sums = new Float64Array(Math.floor(values.length / drawsPerSet))
  for (let i = 0; i < sums.length * drawsPerSet; i++) {
    const set = Math.floor(i / drawsPerSet)
    sums[set] = (sums[set] ?? 0) + (values[i] ?? 0)
  }
  return { mean: moments.mean, standardError: errorOfSetSums(sums, values.length) }
}

/**
 * K3: the means of the sets, shrunk towards the overall mean, since part of their distance from it is chance, and
 * shifted by the sharpened less the plain mean (X3).
 */
function drawnSetMeans(
  differences: Float64Array,
  drawsPerSet: number,
  mean: number,
  { within, between, sets }: { readonly within: number; readonly between: number; readonly sets: number },
): Float64Array {
  const total = between + within / drawsPerSet
  const pull = total === 0 ? 0 : Math.sqrt(between / total)
  const plain = momentsOf(differences).mean
  return Float64Array.from({ length: sets }, (_, set) => {
    let sum = 0
    for (let i = set * drawsPerSet; i < (set + 1) * drawsPerSet; i++) sum += differences[i] ?? 0
    return mean + pull * (sum / drawsPerSet - plain)
  })
}

/** Share below 0; values of exactly 0 count half. */
function shareBelowZero(values: Float64Array, n = values.length): number {
  let below = 0
  for (const value of values) below += value < 0 ? 1 : value === 0 ? 0.5 : 0
  return below / n
}

/** K3, tried in this order. */
function verdictOf(
  [low, high]: readonly [number, number],
  lowerCost: number,
  mean: number,
  standardError: number,
  better: number,
): Verdict {
  const nothing = 0.01 * Math.abs(lowerCost)
  if (low >= -nothing && high <= nothing) return 'no difference worth naming'
  if (Math.abs(mean) < 2 * standardError) return 'too close to call'
  if (better >= 0.95) return 'pays back'
  if (better >= 0.75) return 'probably pays back'
  if (better <= 0.05) return 'does not pay back'
  if (better <= 0.25) return 'probably does not pay back'
  return 'too close to call'
}

/** O7: what the battery of one of the two would have to earn a day for both to cost the same, its outages included, and what it earns. */
function wouldHaveToEarn(
  option: Compared,
  against: Compared,
  difference: number,
): Pick<Comparison, 'batteryWouldHaveToEarnPerDay' | 'batteryEarnsPerDay'> {
  const withBattery = [option, against].filter(one => one.job.battery !== 'none')
  const [one] = withBattery
  if (one === undefined || withBattery.length === 2 || one.battery.days <= 0)
    return { batteryWouldHaveToEarnPerDay: null, batteryEarnsPerDay: null }
  const dearer = one === option ? difference : -difference
  const { earnings, outage, days } = one.battery
  return {
    batteryWouldHaveToEarnPerDay: (dearer + earnings - outage) / days,
    batteryEarnsPerDay: one.job.battery === 'unknown' ? null : (earnings - outage) / days,
  }
}

/** K3: the first year from which on the cumulative mean present cost of the dearer to buy stays lower. */
function aheadFrom(option: Compared, against: Compared): number | null {
  let gap = option.acquisition - against.acquisition
  let from: number | null = null
  for (let year = 0; year < option.presentByYear.length; year++) {
    gap += (option.presentByYear[year] ?? 0) - (against.presentByYear[year] ?? 0)
    if (gap < 0) from ??= year
    else from = null
  }
  return from
}

function meanOf({ sharp, lifetimeCost }: Costs): number {
  return sharp?.mean ?? momentsOf(lifetimeCost).mean
}
