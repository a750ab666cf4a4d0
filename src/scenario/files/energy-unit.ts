/** The unit of a column of energy or power, in kWh. */
export interface EnergyUnit {
  /** kWh for one of its unit; of power, for one of its unit during an hour. */
  readonly kwh: number
  /** Whether it is power: steps of an hour are averaged, not added. */
  readonly power: boolean
}

const UNITS: ReadonlyMap<string, EnergyUnit> = new Map([
  ['kwh', { kwh: 1, power: false }],
  ['wh', { kwh: 0.001, power: false }],
  ['mwh', { kwh: 1000, power: false }],
  ['kw', { kwh: 1, power: true }],
  ['w', { kwh: 0.001, power: true }],
])

/**
 * The unit that a header names, as a word of its own: `kwh`, `Use (Wh)`, `grid_in_kW`.
 *
 * @param header - name of a column
 * @returns null where it names none
 * @example energyUnit('Import [kWh]') // { kwh: 1, power: false }
 */
export function energyUnit(header: string): EnergyUnit | null {
  const words = header.toLowerCase().split(/[^a-z]+/)
  const last = words.filter(word => UNITS.has(word)).at(-1)
  return last === undefined ? null : (UNITS.get(last) ?? null)
}
