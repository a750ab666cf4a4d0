/** How shares are written: per cent, or so many of a hundred; one that rounds to none or all is marked as under or over. */

import { sumOf } from '../../numerics/sum.ts'
import { DEFAULT_LOCALE, formatNumber, NBSP } from './number.ts'

/**
 * A share as whole per cent; one that rounds to 0 or 100 without being it is marked as under or over.
 *
 * @param share - [0, 1]
 * @param locale - BCP 47 tag
 * @returns e.g. `34 %`, `under 1 %`, `over 99 %`
 */
export function formatShare(share: number, locale: string = DEFAULT_LOCALE): string {
  if (share > 0 && share < 0.005) return `under 1${NBSP}%`
  if (share < 1 && share > 0.995) return `over 99${NBSP}%`
  return `${formatNumber(share * 100, 1, locale)}${NBSP}%`
}

/**
 * A share close to one (availability) as per cent with two decimals.
 *
 * @param share - [0, 1]
 * @param locale - BCP 47 tag
 * @returns e.g. `99.62 %`
 */
export function formatAvailability(share: number, locale: string = DEFAULT_LOCALE): string {
  return `${formatNumber(share * 100, 0.01, locale)}${NBSP}%`
}

/**
 * A share of what was simulated, as so many of a hundred. All or none of the lifetimes played is not all or none of those
 * possible, so neither is written.
 *
 * @param share - [0, 1]
 * @returns e.g. `84 of 100`, `fewer than 1 of 100`, `more than 99 of 100`; never `0 of 100` nor `100 of 100`
 */
export function formatOfHundred(share: number): string {
  if (share < 0.005) return `fewer than 1 of${NBSP}100`
  if (share > 0.995) return `more than 99 of${NBSP}100`
  return `${Math.round(share * 100)} of${NBSP}100`
}

/**
 * The same as per cent, for tables.
 *
 * @param share - [0, 1]
 * @param locale - BCP 47 tag
 * @returns e.g. `84 %`; never `0 %` nor `100 %`
 */
export function formatChance(share: number, locale: string = DEFAULT_LOCALE): string {
  if (share < 0.005) return `under 1${NBSP}%`
  return share > 0.995 ? `over 99${NBSP}%` : formatShare(share, locale)
}

/**
 * Shares of a whole as whole parts of a hundred that add up to it.
 *
 * @param shares - [0, 1], sum 1
 * @returns one text a share, e.g. `26`, `54`, `20`; `fewer than 1` and `more than 99` where a whole part would hide one
 */
export function formatSplit(shares: readonly number[]): string[] {
  return splitOfHundred(shares).map((part, index) => {
    const share = shares[index] ?? 0
    if (part === 0 && share > 0) return 'fewer than 1'
    return part === 100 && share < 1 ? 'more than 99' : `${part}`
  })
}

/**
 * Shares of a whole as whole parts of a hundred that add up to it: each is rounded down, and the rest is added, one
 * each, to those that lost most by it.
 *
 * @param shares - [0, 1], sum 1
 * @returns one whole number a share, sum 100
 * @example splitOfHundred([0.256, 0.543, 0.201]) // [26, 54, 20]
 */
export function splitOfHundred(shares: readonly number[]): number[] {
  const parts = shares.map(share => Math.floor(share * 100 + 1e-9))
  const left = 100 - sumOf(parts)
  const lost = shares.map((share, index) => share * 100 - (parts[index] ?? 0))
  const order = shares.map((_, index) => index).sort((a, b) => (lost[b] ?? 0) - (lost[a] ?? 0))
  for (const index of order.slice(0, left)) parts[index] = (parts[index] ?? 0) + 1
  return parts
}

/**
 * A share of lifetimes in the fewest words: so many of ten where that is exact.
 *
 * @param share - [0, 1]
 * @returns e.g. `9 of 10`, `96 of 100`
 */
export function formatLifetimes(share: number): string {
  const tenths = Math.round(share * 10)
  // 1e-9: a tenth has no exact binary form
  return Math.abs(share * 10 - tenths) < 1e-9 && tenths > 0 && tenths < 10
    ? `${tenths} of${NBSP}10`
    : formatOfHundred(share)
}
