import type { Option, Scenario } from '../../scenario/model.ts'

/**
 * Which options an unknown affects (S1): those whose description, or that of their models, contains it; all of them for
 * unknowns of the site.
 *
 * @param scenario - the scenario
 * @param unknown - its place in `scenario.unknowns`
 * @returns places of the options, ascending
 */
export function optionsMoved(scenario: Scenario, unknown: number): number[] {
  const everywhere = unknownsIn(scenario.site).has(unknown) || unknownsIn(scenario.visit).has(unknown)
  return scenario.options.flatMap((option, i) => (everywhere || movedBy(scenario, option, unknown) ? [i] : []))
}

function movedBy(scenario: Scenario, option: Option, unknown: number): boolean {
  if (unknownsIn(option).has(unknown)) return true
  if (option.populations.some(({ model }) => scenario.models[model]?.multiplier === unknown)) return true
  const { tierEffect } = scenario
  return tierEffect !== null && 'unknown' in tierEffect && tierEffect.unknown === unknown && hasTierGap(option)
}

/**
 * Whether an option takes failures of another tier than the plain one from evidence (U1c).
 *
 * @param option - of a scenario
 */
export function hasTierGap(option: Option): boolean {
  return option.populations.some(({ failure: { source } }) => source.form === 'evidence' && source.plainRow !== null)
}

/** Results of earlier look-ups: scenarios are never changed in place. */
const found = new WeakMap<object, ReadonlySet<number>>()

/**
 * The unknowns that a value contains, at any depth.
 *
 * @param value - a part of a scenario
 * @returns their places in `scenario.unknowns`
 */
export function unknownsIn(value: unknown): ReadonlySet<number> {
  if (typeof value !== 'object' || value === null) return NONE
  const known = found.get(value)
  if (known !== undefined) return known
  const unknowns = new Set<number>()
  if ('unknown' in value && typeof value.unknown === 'number') unknowns.add(value.unknown)
  for (const part of Object.values(value)) for (const unknown of unknownsIn(part)) unknowns.add(unknown)
  found.set(value, unknowns)
  return unknowns
}

const NONE: ReadonlySet<number> = new Set()
