/**
 * What is summed over the sites of a fleet: whole numbers only, so that any split and any order give the same (F4).
 */

import { power } from '../../numerics/power.ts'

/** Columns of a chunk, of a part, of the fleet. Every entry is a whole number. */
export const COLUMNS = [
  /** Cash by draw and year, hundredths. */
  'cash',
  /** The same with every site's draws in an order of its own: without common cause. */
  'independentCash',
  /** Failures by draw and year; of these, of monitoring alone and of the battery alone. */
  'failures',
  'monitoringFailures',
  'batteryFailures',
  /** Visits, covered ones too, by draw and year of the return. */
  'visits',
  /** What is bought later, by draw and year, hundredths; how often by draw; sites that may buy (C8). */
  'laterCash',
  'laterBought',
  'laterSites',
  /** Energy lost to outages by draw, Wh. */
  'lostWh',
  /** Cash by model and draw; by provider and draw; hundredths. */
  'modelCash',
  'providerCash',
  /** Failures, and first failures of original units, by model and year; sums over draws. */
  'modelFailures',
  'modelFirstFailures',
  /** Cash of the groups of the sample by group, draw and year; with and without common cause; hundredths. */
  'sampleCash',
  'sampleIndependent',
  /** By scope (all sites, then each group): sums of what sites would need alone. */
  'singleContribution',
  'singleCash90',
  /** By scope: sites. */
  'sites',
  /** Sums of the costs of single sites: next year, in the next five, to the horizon; hundredths, over all draws. */
  'siteCash',
  /** By model: sites. By provider: sites. */
  'modelSites',
  'providerSites',
  'leftOut',
] as const

/** Name of a column. */
export type Column = (typeof COLUMNS)[number]

/** Sizes of the columns. */
export interface SumsShape {
  readonly draws: number
  readonly years: number
  readonly models: number
  readonly providers: number
  /** Groups of the sample. */
  readonly groups: number
}

/**
 * Length of a column.
 *
 * @param column - which
 * @param shape - of the fleet
 */
export function lengthOf(column: Column, shape: SumsShape): number {
  const { draws, years, models, providers, groups } = shape
  switch (column) {
    case 'cash':
    case 'independentCash':
    case 'failures':
    case 'monitoringFailures':
    case 'batteryFailures':
    case 'visits':
    case 'laterCash':
      return draws * years
    case 'lostWh':
    case 'laterBought':
      return draws
    case 'modelCash':
      return models * draws
    case 'providerCash':
      return providers * draws
    case 'modelFailures':
    case 'modelFirstFailures':
      return models * years
    case 'sampleCash':
    case 'sampleIndependent':
      return groups * draws * years
    case 'singleContribution':
    case 'singleCash90':
    case 'sites':
      return 1 + groups
    case 'siteCash':
      return 3
    case 'modelSites':
      return models
    case 'providerSites':
      return providers
    case 'leftOut':
    case 'laterSites':
      return 1
    default:
      return column satisfies never
  }
}

/** Sums of one chunk: entries stay under 2^53. */
export type ChunkSums = Readonly<Record<Column, Float64Array>>

/**
 * Empty sums of a chunk.
 *
 * @param shape - of the fleet
 */
export function emptyChunk(shape: SumsShape): ChunkSums {
  // every column is listed in COLUMNS
  return Object.fromEntries(COLUMNS.map(column => [column, new Float64Array(lengthOf(column, shape))])) as ChunkSums
}

const CARRY = power(2, 52)

/** Sums of a part or of the fleet: two doubles an entry, exact to 2^104. */
export class FleetSums {
  readonly shape: SumsShape
  /** By scope: sum of the variances of single sites, hundredths², whole. */
  readonly singleVariance: bigint[]
  readonly #low: ChunkSums
  readonly #high: ChunkSums

  /** @param shape - of the fleet */
  constructor(shape: SumsShape) {
    this.shape = shape
    this.singleVariance = new Array<bigint>(1 + shape.groups).fill(0n)
    this.#low = emptyChunk(shape)
    this.#high = emptyChunk(shape)
  }

  /**
   * Adds a chunk.
   *
   * @param chunk - its sums
   * @param singleVariance - by scope
   */
  add(chunk: ChunkSums, singleVariance: readonly bigint[]): void {
    for (const column of COLUMNS) addColumn(this.#low[column], this.#high[column], chunk[column])
    singleVariance.forEach((value, scope) => {
      this.singleVariance[scope] = (this.singleVariance[scope] ?? 0n) + value
    })
  }

  /** Adds other sums of the same shape. */
  addSums(other: FleetSums): void {
    for (const column of COLUMNS) {
      addColumn(this.#low[column], this.#high[column], other.#low[column])
      const high = this.#high[column]
      other.#high[column].forEach((value, i) => {
        high[i] = (high[i] ?? 0) + value
      })
    }
    other.singleVariance.forEach((value, scope) => {
      this.singleVariance[scope] = (this.singleVariance[scope] ?? 0n) + value
    })
  }

  /**
   * A column as numbers: exact under 2^53, else the nearest double.
   *
   * @param column - which
   */
  column(column: Column): Float64Array {
    const high = this.#high[column]
    return this.#low[column].map((low, i) => (high[i] ?? 0) * CARRY + low)
  }

  /** A column as 64-bit integers, for files. */
  integers(column: Column): BigInt64Array {
    const high = this.#high[column]
    return BigInt64Array.from(this.#low[column], (low, i) => BigInt(high[i] ?? 0) * BigInt(CARRY) + BigInt(low))
  }

  /** Puts 64-bit integers from a file into a column. */
  setIntegers(column: Column, values: BigInt64Array): void {
    values.forEach((value, i) => {
      const high = value / BigInt(CARRY)
      this.#high[column][i] = Number(high)
      this.#low[column][i] = Number(value - high * BigInt(CARRY))
    })
  }
}

function addColumn(low: Float64Array, high: Float64Array, more: Float64Array): void {
  for (let i = 0; i < low.length; i++) {
    const added = more[i] ?? 0
    if (added === 0) continue
    let sum = (low[i] ?? 0) + added
    if (sum >= CARRY || sum <= -CARRY) {
      const carried = Math.trunc(sum / CARRY)
      high[i] = (high[i] ?? 0) + carried
      sum -= carried * CARRY
    }
    low[i] = sum
  }
}
