import type { Option, Scenario } from '../scenario/model.ts'

/**
 * Which options an unknown moves (S1): those whose description, or that of their models, holds it; all of them for
 * unknowns of the site.
 *
 * @param scenario - the scenario
 * @param unknown - its place in `scenario.unknowns`
 * @returns places of the options, ascending
 */
export function optionsMoved(scenario: Scenario, unknown: number): number[] {
  const everywhere = holds(scenario.site, unknown) || holds(scenario.visit, unknown)
  return scenario.options.flatMap((option, i) => (everywhere || movedBy(scenario, option, unknown) ? [i] : []))
}

function movedBy(scenario: Scenario, option: Option, unknown: number): boolean {
  if (holds(option, unknown)) return true
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

/** Whether a value, however deep, is a quantity or a fitted model moved by the unknown. */
function holds(value: unknown, unknown: number): boolean {
  if (typeof value !== 'object' || value === null) return false
  if ('unknown' in value && value.unknown === unknown) return true
  return Object.values(value).some(part => holds(part, unknown))
}
