import { DESIGN_LOSSES } from '../energy/option-energy.ts'
import { MONTHS_PER_YEAR } from '../units.ts'
import { selfUsedPart } from './outages/energy-value.ts'
import { monthClock } from './outages/month-clock.ts'
import type { EnergySupply, EnergyTerms } from './terms.ts'

/** Losses that have a value; energy over the export limit has none. */
const VALUED = ['shadeAndMismatch', 'conversion', 'clipping'] as const

/** What a design loses by month, before prices. */
interface DesignKwh {
  /** Shade, mismatch and conversion. */
  readonly lost: Float64Array
  /** Share of the ideal energy that they are, [0, 1]; 0 in a month without any. */
  readonly lostShare: Float64Array
  /** Clipped energy, less the part of all losses that would have been sold for nothing. */
  readonly paidBesides: Float64Array
  /** Part of all losses that the household would have used; null where no load is known. */
  readonly selfUsed: Float64Array | null
}

/** Monthly losses by supply, added up once; null where a design loses nothing. */
const known = new WeakMap<EnergySupply, DesignKwh | null>()

/**
 * Present value of the energy a design loses while everything works, by year (C5, C7): shade, mismatch and conversion
 * are valued as a lost share of the month's ideal energy, clipped energy at the export price, energy over the export
 * limit at nothing.
 *
 * @param supply - energy of the option
 * @param terms - prices of energy
 * @param discountRate - ln of the discount factor a year, <= 0
 * @param horizonYears - years
 * @returns Float64Array, one present value a year
 */
export function designEnergyByYear(
  supply: EnergySupply,
  terms: EnergyTerms,
  discountRate: number,
  horizonYears: number,
): Float64Array {
  const byYear = new Float64Array(horizonYears)
  const design = designKwhOf(supply)
  if (design === null) return byYear
  const { lost, lostShare, paidBesides, selfUsed } = design
  const clock = monthClock(supply.monthStart, horizonYears)
  const imports = clock.growth(terms.importGrowth.rate + discountRate)
  const exports = clock.growth(terms.exportGrowth.rate + discountRate)
  for (let month = 0; month < clock.months; month++) {
    const lostKwh = lost[month] as number // every month has its entries
    const selfUsedKwh =
      selfUsed === null
        ? lostKwh * selfUsedPart(terms.selfConsumed[month % MONTHS_PER_YEAR] ?? 0, lostShare[month] as number)
        : (selfUsed[month] as number)
    // With a known load this may be negative: an inverter on one phase of three exports what could have been self-used.
    const soldKwh = lostKwh - selfUsedKwh + (paidBesides[month] as number)
    const exportedKwh = selfUsed === null ? Math.max(soldKwh, 0) : soldKwh
    const year = Math.floor(month / MONTHS_PER_YEAR)
    byYear[year] =
      (byYear[year] as number) +
      selfUsedKwh * terms.importPrice * (imports[month] as number) +
      exportedKwh * terms.exportPrice * (exports[month] as number)
  }
  return byYear
}

function designKwhOf(supply: EnergySupply): DesignKwh | null {
  const before = known.get(supply)
  if (before !== undefined) return before
  const found = addUp(supply)
  known.set(supply, found)
  return found
}

function addUp({
  designLossKwh,
  designLossSelfUsedKwh,
  designLossUnpaidKwh,
  idealKwh,
}: EnergySupply): DesignKwh | null {
  if (DESIGN_LOSSES.every(loss => designLossKwh[loss].every(kwh => kwh === 0))) return null
  const ofAll = (kwh: EnergySupply['designLossKwh'], month: number): number =>
    VALUED.reduce((sum, loss) => sum + (kwh[loss][month] ?? 0), 0)
  const { shadeAndMismatch, conversion, clipping } = designLossKwh
  const lost = shadeAndMismatch.map((kwh, month) => kwh + (conversion[month] ?? 0))
  return {
    lost,
    lostShare: lost.map((kwh, month) => (idealKwh[month] === 0 ? 0 : kwh / (idealKwh[month] ?? 1))),
    paidBesides: clipping.map(
      (kwh, month) => kwh - (designLossUnpaidKwh === null ? 0 : ofAll(designLossUnpaidKwh, month)),
    ),
    selfUsed: designLossSelfUsedKwh && lost.map((_, month) => ofAll(designLossSelfUsedKwh, month)),
  }
}
