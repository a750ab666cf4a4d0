import type { EvidenceFigure } from '../../evidence/figure.ts'
import { figureOf } from '../../evidence/index.ts'
import { isCentralInverter, kindOf } from '../../topologies/kinds.ts'
import type { GivenComponent } from '../schema/component.ts'
import type { GivenOption } from '../schema/option.ts'
import type { Draft } from '../schema/walk.ts'
import { KW_PER_KWH } from './battery.ts'

/** What a part may be priced by. */
export type SizeUnit = 'kW' | 'kWh'

/**
 * What a price is for.
 *
 * @param figure - a price of the evidence
 * @returns `kW` or `kWh`; null: one unit
 */
export function sizeUnit(figure: Pick<EvidenceFigure, 'unit'>): SizeUnit | null {
  return figure.unit.endsWith('/kWh') ? 'kWh' : figure.unit.endsWith('/kW') ? 'kW' : null
}

/** The size of one unit, and what it was estimated from; null where it was given. */
export interface PartSize {
  readonly value: number
  readonly estimatedFrom: string | null
}

/**
 * The size of one unit, used only to price its parts: as given, for a battery and its inverter also in the battery block;
 * else, for a string or hybrid inverter, estimated from the number of panels, shared among the inverters of the option.
 *
 * @param unit - of the size
 * @param component - the component, as written
 * @param option - the option it belongs to
 * @param panels - panels of the site; undefined where they are not known
 * @returns the size, to two digits where it is estimated; null where nothing says it
 */
export function partSize(
  unit: SizeUnit,
  component: Draft<GivenComponent>,
  option: Draft<GivenOption>,
  panels: number | undefined,
): PartSize | null {
  if (component.ac_kw !== undefined) return { value: component.ac_kw, estimatedFrom: null }
  const battery = ofBattery(unit, component, option)
  if (battery !== null) return battery
  const inverters = (option.components ?? [])
    .filter(one => isCentralInverter(one?.kind))
    .reduce((sum, one) => sum + (one?.count ?? 1), 0)
  if (!isCentralInverter(component.kind) || panels === undefined) return null
  const perPanel = figureOf(null, 'ac_kw_per_panel').value
  return { value: Number(((perPanel * panels) / inverters).toPrecision(2)), estimatedFrom: 'the panels' }
}

/** The size that the battery block gives, divided by the units of the kind; null where it gives none. */
function ofBattery(unit: SizeUnit, component: Draft<GivenComponent>, option: Draft<GivenOption>): PartSize | null {
  const { kind } = component
  if (kind === undefined || !kindOf(kind).role.startsWith('battery')) return null
  const units = (option.components ?? []).reduce((sum, one) => sum + (one?.kind === kind ? (one.count ?? 1) : 0), 0)
  const { kwh, kw } = option.battery ?? {}
  if (unit === 'kWh') return kwh === undefined ? null : { value: kwh / units, estimatedFrom: null }
  if (kw !== undefined) return { value: kw / units, estimatedFrom: null }
  return kwh === undefined ? null : { value: (kwh * KW_PER_KWH) / units, estimatedFrom: 'the capacity of the battery' }
}

/** The key that says a size. */
export const SIZE_KEYS: Readonly<Record<SizeUnit, string>> = { kW: 'ac_kw', kWh: 'battery.kwh' }
