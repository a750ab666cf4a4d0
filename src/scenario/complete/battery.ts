import { kindOf } from '../../topologies/kinds.ts'
import type { Battery, Option } from '../model.ts'
import { keyWords } from '../schema/key-words.ts'
import type { GivenOption } from '../schema/option.ts'
import type { GivenScenario } from '../schema/scenario.ts'
import { panelsOf } from '../usual-parts.ts'
import type { Resolution } from './resolution.ts'

/** Part of its capacity that a battery takes or gives in an hour: common practice, no source. */
export const KW_PER_KWH = 0.5

/** Round trip, and share of its worth that a battery loses with each year of its age: judgement. */
const ROUND_TRIP = 0.9
const FADE_PER_YEAR = 0.02

/**
 * The battery of an option (O7): by its block, a battery among the components, or `includes: [battery]`.
 *
 * @param option - as written, with its components
 * @param given - the scenario
 * @param resolution - takes values and notes
 * @returns null where the option has none
 */
export function completeBattery(option: GivenOption, given: GivenScenario, resolution: Resolution): Option['battery'] {
  if (!hasBattery(option)) return null
  const { battery } = option
  const key = (name: string): string => `${option.name} / battery.${name}`
  const worth = worthOf(option, given, resolution)
  // an unknown worth loses nothing that could be counted
  const withoutSun =
    worth === null
      ? (battery?.without_sun ?? 0)
      : resolution.value({
          key: key('without_sun'),
          given: battery?.without_sun,
          filling: { choice: 0, remark: 'a battery without sun earns nothing unless given' },
        })
  return { worth, withoutSun, backup: battery?.backup ?? false }
}

/** Whether an option has a battery, whatever is known of it (O7). */
export function hasBattery(option: Pick<GivenOption, 'battery' | 'components' | 'includes'>): boolean {
  return (
    option.battery !== undefined ||
    option.components.some(({ kind }) => kindOf(kind).role === 'battery') ||
    (option.includes ?? []).some(word => word.trim().toLowerCase() === 'battery')
  )
}

function worthOf(option: GivenOption, given: GivenScenario, resolution: Resolution): Battery['worth'] {
  const { battery } = option
  const key = (name: string): string => `${option.name} / battery.${name}`
  if (battery?.value_per_day !== undefined) {
    const valuePerDay = resolution.quantity({
      key: key('value_per_day'),
      scale: 'log',
      given: battery.value_per_day,
      filling: { choice: 0, remark: '' },
      unknownName: key('value_per_day'),
      evidenceName: '',
      label: `${keyWords('battery.value_per_day')} (${option.name})`,
      evidenceLabel: '',
      read: true,
      evidenceDrawn: false,
    })
    return { form: 'stated', valuePerDay }
  }
  const unknown = (): null => {
    resolution.note(
      'battery-worth-unknown',
      `${option.name} has a battery, and nothing says what it earns: it gets no verdict against an option without one. Give battery.kwh or battery.value_per_day.`,
    )
    return null
  }
  if (battery?.kwh === undefined) return unknown()
  const panelsKw = ratedKw(option, given)
  const played = given.site.load !== undefined && given.site.generation.monthly_kwh === undefined
  if (panelsKw === null && !played) return unknown()
  if (!played)
    resolution.note(
      'battery-worth-by-points',
      `What the battery of ${option.name} earns comes from published points of self-use by its size, as no hours of the household are known: a household that uses little, or at other hours, earns less. With site.load and arrays or a file of hours it is worked out hour by hour.`,
    )
  const value = (name: string, given: number | undefined, choice: number, remark: string): number =>
    resolution.value({ key: key(name), given, filling: { choice, remark } })
  const kwh = value('kwh', battery.kwh, 0, '')
  return {
    form: 'computed',
    kwh,
    kw: value('kw', battery.kw, kwh * KW_PER_KWH, 'half of the capacity in an hour: common practice, no source'),
    roundTrip: value('round_trip', battery.round_trip, ROUND_TRIP, 'judgement'),
    fadePerYear: value('fading', undefined, FADE_PER_YEAR, 'judgement'),
    dcCoupled:
      option.components.some(({ kind }) => kindOf(kind).curve === 'hybrid') &&
      option.components.every(({ kind }) => kindOf(kind).role !== 'battery-inverter'),
    panelsKw,
  }
}

/** Rated power of the panels: as given or by the arrays, else that of the option's units; null where neither is known. */
function ratedKw(option: GivenOption, given: GivenScenario): number | null {
  const { site } = given
  const arrays = site.generation.arrays ?? []
  if (arrays.length > 0) return arrays.reduce((sum, array) => sum + array.panels * array.panel_w, 0) / 1000
  const panels = panelsOf(site)
  if (site.panel_w !== undefined && panels !== undefined) return (site.panel_w * panels) / 1000
  let sum = 0
  for (const { kind, ac_kw: kw, count } of option.components) {
    if (kindOf(kind).curve === null) continue
    if (kw === undefined) return null
    sum += kw * (count ?? (kindOf(kind).role === 'panel-level' ? (panels ?? 1) : 1))
  }
  return sum > 0 ? sum : null
}
