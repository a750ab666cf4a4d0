import { isCentralInverter } from '../../topologies/kinds.ts'
import type { Option } from '../model.ts'
import type { RoofArray } from '../roof.ts'
import type { GivenScenario } from '../schema/scenario.ts'

/**
 * An option whose inverters have as many strings as they use inputs, where `strings` is not given (O4).
 *
 * @param option - complete
 * @param given - the option as written
 * @param arrays - the arrays of the roof
 */
export function withUsedInputs(
  option: Option,
  given: GivenScenario['options'][number],
  arrays: readonly RoofArray[],
): Option {
  let before = 0
  const populations = option.populations.map(population => {
    if (!isCentralInverter(population.kind)) return population
    const first = before
    before += population.count * population.inputs
    if (given.components[population.place]?.strings !== undefined) return population
    const used = new Set(arrays.map(array => array.input).filter(input => input > first && input <= before)).size
    return { ...population, strings: Math.max(1, Math.round(used / population.count)) }
  })
  return { ...option, populations }
}
