import { momentsOf } from '../../numerics/samples/moments.ts'
import type { Scenario } from '../../scenario/model.ts'
import { middleSet, type ParameterSet, swungSet } from '../../simulation/parameter-sets.ts'
import { type CostsInSet, costsInSets } from '../../simulation/play-sets.ts'
import { type Prepared, planOf } from '../../simulation/run.ts'
import { LEAST_DRAWS } from '../../simulation/sums/controls-by-draw.ts'
import { dearerFirst } from '../comparison/comparison.ts'
import { LEAST_FAILURES } from '../means/mean-controls.ts'
import { ControlRows, SharpMeans } from '../means/sharp-means.ts'
import type { Swing } from '../results/what-if.ts'
import { optionsMoved } from './unknowns-read.ts'

/** Draws of a swing. Ours: with sharpened means they have the error of 4,000 plain ones (X3). */
export const SWING_DRAWS = 1000
/** Draws for each control at least. Ours. */
const DRAWS_PER_CONTROL = 20

/** Mean lifetime cost of one option: everything at its middle, and with each unknown that affects it at either end. */
export interface SwingCosts {
  readonly middle: number
  /** By place of the unknown in the scenario. */
  readonly ends: ReadonlyMap<number, { readonly low: number; readonly high: number }>
}

/**
 * What each unknown does to the cost of an option: at its 10 % and 90 % point, all others at their middle, other
 * multipliers at 1, same streams (S1, K4).
 *
 * @param prepared - the run
 * @param option - place of the option
 * @param draws - draws of the run; at most 1,000 are used
 */
export function swingCosts(prepared: Prepared, option: number, draws: number): SwingCosts {
  const { scenario } = prepared
  const unknowns = scenario.unknowns.length
  const mine = unknownsMoving(scenario).filter(({ moved }) => moved.includes(option))
  const sets: ParameterSet[] = [middleSet(unknowns)]
  for (const { unknown } of mine) sets.push(swungSet(unknowns, unknown, false), swungSet(unknowns, unknown, true))
  const costs = costsInSets(planOf(prepared, option), Math.min(draws, SWING_DRAWS), sets)
  const sharp = new Map<Float64Array, SharpMeans | null>()
  const [middle = 0, ...ends] = costs.map(one => {
    const known = sharp.get(one.unexpected)
    const fit = known === undefined ? fitOf(one) : known
    sharp.set(one.unexpected, fit)
    return fit === null ? momentsOf(one.costs).mean : fit.meanOfDraws(one.costs)
  })
  return {
    middle,
    ends: new Map(
      mine.map(({ unknown }, i) => [unknown, { low: ends[2 * i] ?? middle, high: ends[2 * i + 1] ?? middle }]),
    ),
  }
}

/** Weights that sharpen the mean of a set, from its controls (X3); null with too few draws. */
function fitOf({ unexpected, columns, expected, costs }: CostsInSet): SharpMeans | null {
  if (costs.length < LEAST_DRAWS) return null
  const rows = new ControlRows(columns)
  rows.add(unexpected)
  const common = Array.from(expected, (number, place) => ({ place, number })).filter(
    ({ number }) => costs.length * number >= LEAST_FAILURES,
  )
  common.sort((a, b) => b.number - a.number || a.place - b.place)
  const batches = Array.from({ length: columns - expected.length }, (_, i) => expected.length + i)
  return SharpMeans.positive(rows, [...common.map(({ place }) => place), ...batches], costs.length / DRAWS_PER_CONTROL)
}

/**
 * What each unknown does to the answer (S1).
 *
 * @param scenario - the scenario
 * @param costs - of every option, from `swingCosts`
 * @param best - place of the option with the lowest mean
 * @param second - place of the next; the same as `best` with one option
 * @param draws - draws that the costs come from
 * @returns one swing an unknown, the widest in the difference first
 */
export function swings(
  scenario: Scenario,
  costs: readonly SwingCosts[],
  best: number,
  second: number,
  draws: number,
): Swing[] {
  const costAt = (option: number, unknown: number, end: 'low' | 'high'): number => {
    const own = costs[option]
    return own?.ends.get(unknown)?.[end] ?? own?.middle ?? 0
  }
  const [option, against] = dearerFirst(scenario.options, best, second)
  const found = unknownsMoving(scenario).map(({ input, unknown, moved }): Swing => {
    const shown = moved.includes(best) ? best : (moved[0] ?? best)
    return {
      input: input.label,
      option: moved.length === 1 ? idOf(scenario, shown) : null,
      unit: input.unit,
      low: input.low,
      high: input.high,
      costAtLow: costAt(shown, unknown, 'low'),
      costAtHigh: costAt(shown, unknown, 'high'),
      differenceAtLow: costAt(option, unknown, 'low') - costAt(against, unknown, 'low'),
      differenceAtHigh: costAt(option, unknown, 'high') - costAt(against, unknown, 'high'),
      draws,
    }
  })
  return found.sort((a, b) => widthOf(b, best === second) - widthOf(a, best === second))
}

/** The unknowns that affect an option, with the options they affect. */
function unknownsMoving(
  scenario: Scenario,
): { readonly input: Scenario['unknowns'][number]; readonly unknown: number; readonly moved: readonly number[] }[] {
  return scenario.unknowns.flatMap((input, unknown) => {
    const moved = optionsMoved(scenario, unknown)
    return moved.length === 0 ? [] : [{ input, unknown, moved }]
  })
}

function idOf(scenario: Scenario, option: number): string | null {
  return scenario.options[option]?.id ?? null
}

function widthOf(swing: Swing, single: boolean): number {
  return single
    ? Math.abs(swing.costAtHigh - swing.costAtLow)
    : Math.abs(swing.differenceAtHigh - swing.differenceAtLow)
}
