import type { Option } from '../../scenario/model.ts'
import type { RoofArray } from '../../scenario/roof.ts'
import { isCentralInverter } from '../../topologies/kinds.ts'
import { type ConversionCurve, curveOf } from '../harvest/conversion-curve.ts'

/** One inverter of an option. */
export interface Inverter {
  /** Index of its population in the option. */
  readonly population: number
  /** AC rating, kW; null: as large as its panels, so that it never limits. */
  readonly acKw: number | null
  readonly curve: ConversionCurve
}

/** A tracker input of an inverter and the arrays wired to it. */
export interface WiredInput {
  /** Index in the list of inverters. */
  readonly inverter: number
  /** Indices of arrays, in listed order. */
  readonly arrays: readonly number[]
}

/** Which inverter is connected to which arrays. */
export interface Wiring {
  readonly inverters: readonly Inverter[]
  /** Inputs that are used. */
  readonly inputs: readonly WiredInput[]
}

/**
 * Which inverter and input each array is wired to: inverter n takes the next `inputs` inputs in listed order. An array
 * on an input that the option does not have shares its last one.
 *
 * @param option - an option with inverters on the wall
 * @param arrays - the arrays of the roof
 * @returns inverters in listed order, used inputs in order
 */
export function wiringOf(option: Option, arrays: readonly RoofArray[]): Wiring {
  const inverters: Inverter[] = []
  const inverterOfInput: number[] = []
  option.populations.forEach((population, index) => {
    const { kind } = population
    if (!isCentralInverter(kind)) return
    for (let unit = 0; unit < population.count; unit++) {
      for (let input = 0; input < population.inputs; input++) inverterOfInput.push(inverters.length)
      inverters.push({
        population: index,
        acKw: population.acKw,
        curve: curveOf(kind, population.weightedEfficiency),
      })
    }
  })
  const inputs: WiredInput[] = []
  inverterOfInput.forEach((inverter, input) => {
    const wired = arrays.flatMap((array, index) =>
      Math.min(array.input, inverterOfInput.length) === input + 1 ? [index] : [],
    )
    if (wired.length > 0) inputs.push({ inverter, arrays: wired })
  })
  return { inverters, inputs }
}
