import type { KeyPath } from '../../input/problems.ts'
import { COMPONENT_KINDS, type ComponentKind } from '../../topologies/kinds.ts'
import { isTable, type Rewrite } from './rewrite.ts'

/**
 * The first component of an option that is of one of some kinds.
 *
 * @param rewrite - the scenario on its way
 * @param option - path of the option; its components are a list of blocks
 * @param is - whether a kind is one of them
 * @returns its path and kind; null where the option lists none
 */
export function componentOf(
  rewrite: Rewrite,
  option: KeyPath,
  is: (kind: ComponentKind) => boolean,
): { readonly path: KeyPath; readonly kind: ComponentKind } | null {
  const components = rewrite.list([...option, 'components'])
  const kinds = components.map(one => COMPONENT_KINDS.find(kind => isTable(one) && one.kind === kind))
  const place = kinds.findIndex(kind => kind !== undefined && is(kind))
  const kind = kinds[place]
  return kind === undefined ? null : { path: [...option, 'components', place], kind }
}

/**
 * Moves a word of an option to the key of a component that it means.
 *
 * @param rewrite - the scenario on its way
 * @param from - path of the word
 * @param to - path of the component's key
 * @returns whether it was moved; where the component says it too, that is reported as an error
 */
export function moveToComponent(rewrite: Rewrite, from: KeyPath, to: KeyPath): boolean {
  const known = rewrite.at(to)
  if (known === undefined || known === null) {
    rewrite.move(from, to)
    return true
  }
  const message = `"${from.at(-1)}" and "${to.at(-1)}" of the component listed say the same; keep one of the two`
  rewrite.flaws.push({ path: from, message })
  rewrite.drop(from)
  return false
}
