import type { KeyPath } from '../../input/problems.ts'
import { COMPONENT_KINDS, type ComponentKind, kindOf } from '../../topologies/kinds.ts'
import { isTable, type Rewrite } from './rewrite.ts'

/**
 * The battery of a quote (O7): `battery_kwh: 10` is `battery: {kwh: 10}`, and a battery of a stated capacity is a
 * component too; where no hybrid inverter is listed, so is an inverter of its own. What is listed stays.
 */
export function takeBattery(rewrite: Rewrite, path: KeyPath): void {
  const from = [...path, 'battery_kwh']
  const kwh = rewrite.at(from)
  const option = rewrite.table(path)
  if (option === null) return
  if (kwh !== undefined) {
    const at = [...path, 'battery']
    if (rewrite.at(at) === undefined || rewrite.at(at) === null) option.battery = {}
    const battery = rewrite.table(at)
    if (battery === null || battery.kwh !== undefined) {
      rewrite.flaws.push({ path: from, message: 'the option has a battery block as well; write its kwh there' })
      rewrite.drop(from)
      return
    }
    rewrite.take(from, `battery: {kwh: ${String(kwh)}}`)
    rewrite.move(from, [...at, 'kwh'])
  }
  const size = rewrite.at([...path, 'battery', 'kwh'])
  const components = option.components
  if (size === undefined || size === null || !Array.isArray(components) || !components.every(isTable)) return
  const listed = components.map(({ kind }) => COMPONENT_KINDS.find(known => known === kind))
  const has = (is: (kind: ComponentKind) => boolean): boolean => listed.some(kind => kind !== undefined && is(kind))
  if (!has(kind => kindOf(kind).role === 'battery')) components.push({ kind: 'battery', count: 1 })
  if (!has(kind => kindOf(kind).role === 'battery-inverter' || kindOf(kind).curve === 'hybrid'))
    components.push({ kind: 'battery-inverter', count: 1 })
}
