/**
 * What lost energy is worth (C5, T2).
 */
import { MONTHS_PER_YEAR } from '../../units.ts'
import type { EnergySupply, EnergyTerms } from '../terms.ts'

/**
 * Self-used part of the energy that a lost share would have given, where no load is known (C5).
 * s·(0.7s + (1−0.7s)·f²): the first share lost is mostly export; f = 1 gives s.
 *
 * @param selfConsumed - s, share of all generation that is self-used, [0, 1]
 * @param lostShare - f, share of the generation that is lost at the moment, [0, 1]
 * @returns share of the lost energy, [0, s]
 * @source a rule of ours fitted to played half-hours; the report says so
 */
export function selfUsedPart(selfConsumed: number, lostShare: number): number {
  const floor = selfUsedFloor(selfConsumed)
  return selfConsumed * (floor + (1 - floor) * lostShare * lostShare)
}

/**
 * Self-used part of the first share lost, as a share of s (C5): most of it is export.
 *
 * @param selfConsumed - s, [0, 1]
 */
export function selfUsedFloor(selfConsumed: number): number {
  return 0.7 * selfConsumed
}

/** Energy lost in a stretch of time, and its value; reused, never kept. */
export interface LostEnergy {
  kwh: number
  /** Prices of the moment, not discounted. */
  value: number
}

/** Part of the energy that a lost share of a month would have given, and the self-used part of it; reused, never kept. */
export interface LostShare {
  /** As shares of the month's deliverable energy. */
  lost: number
  selfUsed: number
}

/**
 * What losing a share of the generation takes from a month, by rule C5 or by the table of a known load.
 *
 * @param supply - energy of the option
 * @param terms - prices of energy
 * @param monthOfYear - month of the model year
 * @param share - of the generation that is down, [0, 1]
 * @param out - filled
 */
export function lostShareOf(
  supply: EnergySupply,
  terms: EnergyTerms,
  monthOfYear: number,
  share: number,
  out: LostShare,
): void {
  out.lost = share
  out.selfUsed = share * selfUsedPart(terms.selfConsumed[monthOfYear] ?? 0, share)
  if (supply.partialLoss === null) return
  const { shares, lostShare, lostSelfUsedShare } = supply.partialLoss
  const calendarMonth = supply.calendarMonth[monthOfYear] ?? 0
  const place = placeIn(shares, share)
  out.lost = tableAt(lostShare, shares.length, calendarMonth, place)
  out.selfUsed =
    lostSelfUsedShare === null
      ? Math.min(out.selfUsed, out.lost)
      : tableAt(lostSelfUsedShare, shares.length, calendarMonth, place)
}

const part: LostShare = { lost: 0, selfUsed: 0 }

/**
 * Energy of a share of an option's generation lost within one month, and its value then (T2, C4, C5): price growth is
 * taken in the middle of the stretch.
 *
 * @param supply - energy of the option
 * @param terms - prices of energy
 * @param month - month from the start, 12·year + month of that year
 * @param from - start of the stretch, years
 * @param to - end of the stretch, years, within the month
 * @param share - share of the generation that is down, [0, 1]
 * @param out - filled
 */
export function loseShare(
  supply: EnergySupply,
  terms: EnergyTerms,
  month: number,
  from: number,
  to: number,
  share: number,
  out: LostEnergy,
): void {
  const monthOfYear = month % MONTHS_PER_YEAR
  const length = (supply.monthStart[monthOfYear + 1] ?? 1) - (supply.monthStart[monthOfYear] ?? 0)
  const given = ((supply.deliverableKwh[month] ?? 0) * (to - from)) / length
  const at = (from + to) / 2
  lostShareOf(supply, terms, monthOfYear, share, part)
  out.kwh = given * part.lost
  out.value =
    given *
    (part.selfUsed * terms.importPrice * terms.importGrowth.at(at) +
      (part.lost - part.selfUsed) * terms.exportPrice * terms.exportGrowth.at(at))
}

/** Place of a share among ascending shares: whole part = interval, fraction = how far along. */
function placeIn(shares: Float64Array, share: number): number {
  let i = 0
  while (i < shares.length - 2 && share > (shares[i + 1] ?? 1)) i++
  const low = shares[i] ?? 0
  const high = shares[i + 1] ?? 1
  return i + Math.min(Math.max((share - low) / (high - low), 0), 1)
}

function tableAt(table: Float64Array, width: number, calendarMonth: number, place: number): number {
  const i = Math.min(Math.floor(place), width - 2)
  const low = table[calendarMonth * width + i] ?? 0
  const high = table[calendarMonth * width + i + 1] ?? 0
  return low + (place - i) * (high - low)
}
