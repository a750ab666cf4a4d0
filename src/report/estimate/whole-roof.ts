import type { OptionResult } from '../../analysis/results/option.ts'
import { kindOf } from '../../topologies/kinds.ts'
import type { View } from './view.ts'

/**
 * What a failure that stops energy stops with an option (O4).
 *
 * @param option - its results
 * @returns `the whole roof` with one inverter, `mostly one panel` with units behind the panels, `part of the roof` with
 *   several inverters, `one panel or the whole roof` with both kinds
 */
export function whatStops({ populations }: OptionResult): string {
  const units = (role: string): number =>
    populations.filter(({ kind }) => kindOf(kind).role === role).reduce((sum, { count }) => sum + count, 0)
  const onPanels = units('panel-level') > 0
  const inverters = units('inverter')
  if (onPanels) return inverters > 0 ? 'one panel or the whole roof' : 'mostly one panel'
  return inverters === 1 ? 'the whole roof' : 'part of the roof'
}

/**
 * Whether days of outage are days on which the whole roof is dark, with every option. Where they are sums of small outages
 * with some options, they cannot be compared.
 *
 * @param view - prepared results
 */
export function daysAreDark(view: View): boolean {
  return view.results.options.every(option => whatStops(option) === 'the whole roof')
}
