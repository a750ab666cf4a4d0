import type { Scenario } from '../scenario/model.ts'
import { middleSet, type ParameterSet, swungSet } from '../simulation/parameter-sets.ts'
import { meanCosts } from '../simulation/play-sets.ts'
import { type Prepared, planOf } from '../simulation/run.ts'
import type { Swing } from './results.ts'
import { optionsMoved } from './unknowns-read.ts'

/** Draws of a swing (section 7). */
export const SWING_DRAWS = 4000

/**
 * What each unknown does to the answer: the costs with it at its 10 % and 90 % point, all others at their middle,
 * multipliers at 1, same streams (S1).
 *
 * @param prepared - the run
 * @param best - place of the option with the lowest mean
 * @param second - place of the next; the same as `best` with one option
 * @param draws - draws of the run; at most 4,000 are used
 * @returns one swing an unknown, multipliers left out, the widest in the difference first
 */
export function swings(prepared: Prepared, best: number, second: number, draws: number): Swing[] {
  const { scenario } = prepared
  const unknowns = scenario.unknowns.length
  const asked = scenario.unknowns.flatMap((input, unknown) => {
    const moved = optionsMoved(scenario, unknown)
    return input.kind === 'multiplier' || moved.length === 0 ? [] : [{ input, unknown, moved }]
  })
  // one list of sets an option: the middle, then low and high of every unknown that moves it
  const costs = scenario.options.map((_, option) => {
    const mine = asked.filter(({ moved }) => moved.includes(option))
    if (mine.length === 0 && option !== best && option !== second) return null
    const sets: ParameterSet[] = [middleSet(unknowns)]
    for (const { unknown } of mine) sets.push(swungSet(unknowns, unknown, false), swungSet(unknowns, unknown, true))
    const means = meanCosts(planOf(prepared, option), Math.min(draws, SWING_DRAWS), sets)
    return (unknown: number, high: boolean): number => {
      const i = mine.findIndex(one => one.unknown === unknown)
      return means[i < 0 ? 0 : 1 + 2 * i + (high ? 1 : 0)] ?? 0
    }
  })
  const found = asked.map(({ input, unknown, moved }): Swing => {
    const shown = moved.includes(best) ? best : (moved[0] ?? best)
    const costAt = (option: number, high: boolean): number => costs[option]?.(unknown, high) ?? 0
    return {
      input: input.label,
      option: moved.length === 1 ? idOf(scenario, shown) : null,
      unit: input.unit,
      low: input.low,
      high: input.high,
      costAtLow: costAt(shown, false),
      costAtHigh: costAt(shown, true),
      differenceAtLow: costAt(second, false) - costAt(best, false),
      differenceAtHigh: costAt(second, true) - costAt(best, true),
    }
  })
  return found.sort((a, b) => widthOf(b, best === second) - widthOf(a, best === second))
}

function idOf(scenario: Scenario, option: number): string | null {
  return scenario.options[option]?.id ?? null
}

function widthOf(swing: Swing, single: boolean): number {
  return single
    ? Math.abs(swing.costAtHigh - swing.costAtLow)
    : Math.abs(swing.differenceAtHigh - swing.differenceAtLow)
}
