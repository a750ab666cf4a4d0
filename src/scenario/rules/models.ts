import { isDeepStrictEqual } from 'node:util'
import type { Problems } from '../../input/problems.ts'
import type { ScenarioDraft } from './draft.ts'
import { type ComponentPart, componentsOf, optionsOf } from './parts.ts'

const SHARED_KEYS = ['kind', 'tier', 'failure', 'successor'] as const

/** Populations of one model, in whichever option, agree in kind, tier, failure (its flag too) and successor (M2, M4). */
export function checkModels(draft: ScenarioDraft, problems: Problems): void {
  const first = new Map<string, ComponentPart>()
  for (const part of optionsOf(draft).flatMap(componentsOf)) {
    const { model } = part.component
    if (model === undefined) continue
    const known = first.get(model)
    if (known === undefined) first.set(model, part)
    else compare(model, known, part, problems)
  }
}

function compare(model: string, known: ComponentPart, part: ComponentPart, problems: Problems): void {
  for (const key of SHARED_KEYS) {
    const [one, other] = [settled(known, key), settled(part, key)]
    if (isDeepStrictEqual(one, other)) continue
    if (problems.touches([...known.path, key]) || problems.touches([...part.path, key])) continue
    problems.add(
      [...part.path, key],
      `differs from ${known.path.join('.')}.${key}; components of model "${model}" must agree in ${SHARED_KEYS.join(', ')}`,
    )
  }
}

function settled({ component }: ComponentPart, key: (typeof SHARED_KEYS)[number]): unknown {
  if (key !== 'tier') return component[key]
  return component.tier ?? 'plain'
}
