import { isOptimiser, kindOf, sharingKinds } from '../topologies/kinds.ts'
import type { Population } from './model/population.ts'
import type { Option } from './model.ts'

/**
 * Share of the option's generation (of its battery) behind one unit of each population (O4, O7).
 *
 * @param option - the option
 * @param panels - panels of the site; null: as many as there are optimisers
 * @param wired - share of each population, by place, where the arrays decide it; null: they do not
 * @returns one share a population, [0, 1]
 */
export function unitShares(
  option: Pick<Option, 'populations'>,
  panels: number | null,
  wired: readonly (number | null)[] | null,
): Float64Array {
  const shares = new Float64Array(option.populations.length)
  const set = (populations: readonly Population[], weight: (population: Population) => number): void => {
    const givenShare = (population: Population): number | null => population.share ?? wired?.[population.place] ?? null
    const givenSum = populations.reduce((sum, population) => sum + (givenShare(population) ?? 0), 0)
    const rest = populations.filter(population => givenShare(population) === null)
    const restWeight = rest.reduce((sum, population) => sum + population.count * weight(population), 0)
    for (const population of populations) {
      const own = givenShare(population)
      shares[population.place] =
        own !== null ? own / population.count : (Math.max(0, 1 - givenSum) * weight(population)) / restWeight
    }
  }
  for (const kinds of sharingKinds()) {
    const together = option.populations.filter(({ kind }) => kinds.includes(kind) && !isOptimiser(kind))
    const rated = together.every(({ kind, acKw }) => kindOf(kind).carries === 'rating' && acKw !== null)
    set(together, ({ acKw }) => (rated ? (acKw ?? 1) : 1))
  }
  const optimisers = option.populations.filter(({ kind }) => isOptimiser(kind))
  const nPanels = panels ?? optimisers.reduce((sum, optimiser) => sum + optimiser.count, 0)
  for (const { place, count, share } of optimisers) shares[place] = share === null ? 1 / nPanels : share / count
  return shares
}
