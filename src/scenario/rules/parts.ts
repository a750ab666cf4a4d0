import type { KeyPath } from '../../input/problems.ts'
import { kindOf } from '../../topologies/kinds.ts'
import type { GivenComponent } from '../schema/component.ts'
import type { GivenOption } from '../schema/option.ts'
import type { Draft } from '../schema/walk.ts'
import type { ScenarioDraft } from './draft.ts'

/** An option as far as it could be read, with its place in the file. */
export interface OptionPart {
  readonly path: KeyPath
  readonly option: Draft<GivenOption>
}

/** A component as far as it could be read, with its place in the file. */
export interface ComponentPart {
  readonly path: KeyPath
  readonly component: Draft<GivenComponent>
  readonly option: Draft<GivenOption>
}

/** The options that could be read at all. */
export function optionsOf(draft: ScenarioDraft): OptionPart[] {
  return (draft.options ?? []).flatMap((option, index) =>
    option === undefined ? [] : [{ path: ['options', index], option }],
  )
}

/** The components of an option that could be read at all. */
export function componentsOf({ option, path }: OptionPart): ComponentPart[] {
  return (option.components ?? []).flatMap((component, index) =>
    component === undefined ? [] : [{ path: [...path, 'components', index], component, option }],
  )
}

/** Whether a component reports the failures of others (O2). */
export function isMonitor({ component }: ComponentPart): boolean {
  return component.kind !== undefined && kindOf(component.kind).monitors
}

/** Whether a person has to come when units of a component fail (O2). */
export function needsVisit(component: Draft<GivenComponent>): boolean {
  return component.needs_visit ?? (component.kind === undefined || kindOf(component.kind).needsVisit)
}

/** Whether units of a component are reached over the roof. */
export function isOnRoof(component: Draft<GivenComponent>): boolean {
  return component.on_roof ?? (component.kind !== undefined && kindOf(component.kind).onRoof)
}
