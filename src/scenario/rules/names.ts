import { nearest, type Problems } from '../../input/problems.ts'
import type { ScenarioDraft } from './draft.ts'
import { optionsOf } from './parts.ts'

/** Options have names of their own (K1), what is bought later too (C8), and names that are referred to exist. */
export function checkNames(draft: ScenarioDraft, problems: Problems): void {
  const names: string[] = []
  for (const { option, path } of optionsOf(draft)) {
    if (option.name === undefined) continue
    if (names.includes(option.name))
      problems.add([...path, 'name'], `another option is named "${option.name}" already; give each its own name`)
    names.push(option.name)
    const later = (option.later ?? []).map(purchase => purchase?.name)
    later.forEach((name, i) => {
      if (name !== undefined && later.indexOf(name) < i)
        problems.add(
          [...path, 'later', i, 'name'],
          `"${name}" is bought later already; give each purchase its own name`,
        )
    })
  }
  const quoted = draft.site?.generation?.as_quoted_for
  if (quoted === undefined || names.includes(quoted) || names.length < (draft.options?.length ?? 0)) return
  const meant = nearest(quoted, names)
  const advice =
    meant === null ? `the options are ${names.map(name => `"${name}"`).join(', ')}` : `did you mean "${meant}"?`
  problems.add(['site', 'generation', 'as_quoted_for'], `no option is named "${quoted}"; ${advice}`)
}
