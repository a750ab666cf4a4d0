import { TOPOLOGIES } from '../../topologies/index.ts'
import { KINDS } from '../../topologies/kinds.ts'
import { COMPASS_WORDS } from './bearing.ts'

/** A JSON Schema or a part of it. */
type Part = Readonly<Record<string, unknown>>

const YEARS: readonly Part[] = [
  { type: 'number' },
  { type: 'string', pattern: '^\\d+(\\.\\d+)?[ -]*(years?|yrs?|y)?$' },
]

/** Keys of the short form that the full form does not have, by the block that holds them. */
const KEYS: Readonly<Record<string, Readonly<Record<string, Part>>>> = {
  options: {
    inverter_kw: { type: 'number', description: 'AC rating of the inverter, or of one panel-level unit, kW.' },
    tier: { enum: ['budget', 'plain', 'robust'], description: 'Row of the evidence; string inverters only.' },
    optimisers: { type: 'integer', description: 'Panels that have an optimiser.' },
    battery_kwh: { type: 'number', description: 'Usable capacity of the battery, kWh.' },
    panel_w: { type: 'number', description: 'Rated power of one panel, W; the same in all options.' },
  },
  load: { hourly_csv: { type: 'string', description: 'File with the hours of a year; column kwh.' } },
}

/** Other forms of a key that the full form has, by the block and the key. */
const FORMS: Readonly<Record<string, readonly Part[]>> = {
  'options.warranty': YEARS,
  'components.warranty': YEARS,
  'options.topology': [{ enum: Object.values(TOPOLOGIES).flatMap(topology => topology.alsoCalled) }],
  'components.kind': [{ enum: Object.values(KINDS).flatMap(kind => kind.alsoCalled) }],
  'arrays.azimuth': [{ enum: COMPASS_WORDS }],
  '.start': [{ type: 'integer', minimum: 1000, maximum: 9999 }],
}

/** Keys that the short form may leave out although the full form needs them. */
const FREE: readonly string[] = ['options.components', 'arrays.name', 'arrays.panel_w']

/**
 * Further properties of a block in the short form.
 *
 * @param block - key of the list or block that holds them; '' for the root
 * @returns JSON Schema by key
 */
export function shortKeys(block: string): Readonly<Record<string, Part>> {
  return KEYS[block] ?? {}
}

/**
 * Further forms of one key in the short form.
 *
 * @param block - key of the list or block that holds it
 * @param key - the key
 */
export function shortForms(block: string, key: string): readonly Part[] {
  return FORMS[`${block}.${key}`] ?? []
}

/** Whether the short form may leave a key out that the full form needs. */
export function isFree(block: string, key: string): boolean {
  return FREE.includes(`${block}.${key}`)
}
