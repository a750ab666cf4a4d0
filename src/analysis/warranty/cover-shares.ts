import type { CoverTally } from '../../ledger/accounts.ts'
import type { Option } from '../../scenario/model.ts'
import type { CoverOverYears, OptionResult } from '../results/option.ts'

/** Years whose bills are added up in one share; ours: the term most inverters are sold with. */
const FIRST_YEARS = 10

/**
 * What the terms promise of the parts, and what of the whole bill the owner did not pay (V3): of the first component, of
 * each and of all together.
 *
 * @param tally - bills, sums over draws
 * @param option - whose bills they are
 * @param years - of the horizon
 */
export function coverShares(
  tally: CoverTally,
  option: Option,
  years: number,
): Pick<OptionResult, 'coverByYear' | 'coverInAll' | 'coverByComponent'> {
  const of = (places: readonly number[]): CoverOverYears => sharesOf(tally, places, years)
  const { paper, effective } = of([0])
  return {
    coverByYear: { paper, effective },
    coverInAll: of(option.populations.map((_, place) => place)),
    coverByComponent: option.populations.map(({ kind }, place) => ({
      component: kind,
      years: partsTermYears(option, place),
      ...of([place]),
    })),
  }
}

/**
 * Years of parts cover of a component, from an offer where one is taken (W6).
 *
 * @param option - the option
 * @param place - of the component
 */
export function partsTermYears({ populations, offers }: Pick<Option, 'populations' | 'offers'>, place: number): number {
  const taken = offers.find(offer => offer.taken && offer.place === place)
  return taken?.years ?? populations[place]?.warranty.years ?? 0
}

function sharesOf(tally: CoverTally, places: readonly number[], years: number): CoverOverYears {
  const sum = (column: Float64Array, from: number, to: number): number => {
    let total = 0
    for (const place of places) {
      for (let year = from; year < to; year++) total += column[place * years + year] ?? 0
    }
    return total
  }
  const shares = (from: number, to: number): { paper: number | null; effective: number | null } => {
    const parts = sum(tally.partsBill, from, to)
    const whole = sum(tally.wholeBill, from, to)
    return {
      paper: parts === 0 ? null : sum(tally.promised, from, to) / parts,
      effective: whole === 0 ? null : (whole - sum(tally.paid, from, to)) / whole,
    }
  }
  const byYear = Array.from({ length: years }, (_, year) => shares(year, year + 1))
  const first = Math.min(FIRST_YEARS, years)
  return {
    paper: byYear.map(({ paper }) => paper),
    effective: byYear.map(({ effective }) => effective),
    firstYears: { years: first, ...shares(0, first) },
  }
}
