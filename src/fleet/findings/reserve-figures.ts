import { READY_AHEAD } from '../../analysis/reserve/reserve.ts'
import { levelDeposit } from '../../analysis/reserve/two-part-reserve.ts'
import { power } from '../../numerics/power.ts'
import { quantiles } from '../../numerics/samples/quantile.ts'
import { ReserveFactors } from '../../simulation/sums/reserve-need.ts'
import type { FleetResults, FleetTwoPart } from '../fleet-results.ts'
import type { FleetFacts, Part } from '../part-file.ts'
import { meanFigure, quantileFigure } from './figures.ts'
import { meanByYear } from './year-figures.ts'

/**
 * What to put aside for all sites together (R2, R2a, R3).
 *
 * @param cash - of the fleet, money; draws × years, row-major
 * @param head - of the part or of the joined fleet
 * @param sites - played
 */
export function fleetReserveOf(cash: Float64Array, head: Part['head'], sites: number): FleetResults['reserve'] {
  const { draws, years } = head.shape
  const meanCash = meanByYear(cash, draws)
  const { interest, opening, confidence, inflation } = head.facts.reserve
  const factors = new ReserveFactors(head.facts.reserve, years)
  const rows = Array.from({ length: draws }, (_, draw) => cash.subarray(draw * years, (draw + 1) * years))
  const needs = Float64Array.from(rows, row => factors.need(row))
  const contribution = quantileFigure(needs, confidence)
  return {
    confidence,
    interest,
    opening,
    contributionAt: {
      '50': quantileFigure(needs, 0.5),
      '80': quantileFigure(needs, 0.8),
      '90': quantileFigure(needs, 0.9),
    },
    contributionPerYear: contribution,
    contributionPerSite: sites === 0 ? 0 : contribution.value / sites,
    ...shortOf(rows, contribution.value, head.facts.reserve),
    twoPart: twoPartOf(rows, needs, head.facts.reserve, false),
    twoPartFixedInMoney:
      inflation === null ? null : twoPartOf(rows, needsInMoney(rows, factors), head.facts.reserve, true),
    readyAhead: meanCash.map((_, year) =>
      READY_AHEAD.reduce((sum, share, i) => sum + share * (meanCash[year + 1 + i] ?? 0), 0),
    ),
    fixedInMoney: inflation === null ? null : (quantiles(needsInMoney(rows, factors), [confidence])[0] ?? 0),
  }
}

/** How often, and by how much, the account is short under a contribution (R3). */
function shortOf(
  rows: readonly Float64Array[],
  contribution: number,
  { interest, opening }: { readonly interest: number; readonly opening: number },
  falls = 0,
): Pick<FleetResults['reserve'], 'chanceShort' | 'meanShortfall' | 'firstShortYear'> {
  // the contribution is itself the need of a draw: rounding must not count that draw as short
  const rounding = 1e-9 * (1 + opening + contribution * (rows[0]?.length ?? 0))
  const firstYears: number[] = []
  let shortfall = 0
  for (const row of rows) {
    let balance = opening
    let deepest = 0
    let first = -1
    row.forEach((amount, year) => {
      balance = balance * (year === 0 ? 1 : 1 + interest) + contribution * power(1 + falls, -year) - amount
      if (balance >= -rounding) return
      if (first < 0) first = year
      deepest = Math.min(deepest, balance)
    })
    if (first < 0) continue
    firstYears.push(first)
    shortfall -= deepest
  }
  const short = firstYears.length
  return {
    chanceShort: short / rows.length,
    meanShortfall: short === 0 ? 0 : shortfall / short,
    firstShortYear: short === 0 ? null : (quantiles(Float64Array.from(firstYears), [0.5])[0] ?? null),
  }
}

function needsInMoney(rows: readonly Float64Array[], factors: ReserveFactors): Float64Array {
  return Float64Array.from(rows, row => factors.need(row, true))
}

/**
 * R2a: the deposit that pays the mean cash over the horizon, at least what half of the draws need; and the smallest sum at
 * the start, the opening balance included, with which the draws stay solvent with the confidence.
 */
function twoPartOf(
  rows: readonly Float64Array[],
  needs: Float64Array,
  { interest, confidence, inflation }: FleetFacts['reserve'],
  fixedInMoney: boolean,
): FleetTwoPart {
  const falls = fixedInMoney ? (inflation ?? 0) : 0
  const level = meanFigure(Float64Array.from(rows, row => levelDeposit(row, interest, falls)))
  const median = quantileFigure(needs, 0.5)
  const perYear = median.value > level.value ? median : level
  const ready = quantileFigure(
    Float64Array.from(rows, row => mostLacking(row, perYear.value, interest, falls)),
    confidence,
  )
  return { ready, perYear, confidence, ...shortOf(rows, perYear.value, { interest, opening: ready.value }, falls) }
}

/** The largest shortfall of one draw under a deposit, discounted to the start; 0 where there is none. */
function mostLacking(cash: Float64Array, perYear: number, interest: number, falls: number): number {
  let spent = 0
  let covered = 0
  let most = 0
  cash.forEach((amount, year) => {
    const factor = power(1 + interest, -year)
    spent += amount * factor
    covered += perYear * power(1 + falls, -year) * factor
    most = Math.max(most, spent - covered)
  })
  return most
}
