import type { KeyPath } from '../../input/problems.ts'
import type { Topology } from '../../topologies/topology.ts'
import { componentOf, moveToComponent } from './component-of.ts'
import { isTable, type Rewrite } from './rewrite.ts'

/**
 * `optimisers: 6` of an option is the number of its optimisers; `optimisers_on` names their panels and so counts them.
 *
 * @param listed - whether the person listed the components
 */
export function takeOptimisers(rewrite: Rewrite, path: KeyPath, topology: Topology, listed: boolean): void {
  const from = [...path, 'optimisers']
  const written = rewrite.at(from)
  const fitted = componentOf(rewrite, path, kind => kind === 'optimiser')
  if (written !== undefined && fitted === null) {
    const line = 'topology: string-some-optimisers'
    const message = `topology "${topology.key}" has no optimisers; write  ${line}   # or string-optimisers, one on each panel`
    rewrite.flaws.push({ path: from, message })
    rewrite.drop(from)
    return
  }
  if (fitted === null) return
  const count = [...fitted.path, 'count']
  if (written !== undefined) {
    rewrite.take(from, `count: ${String(written)} of the optimiser`)
    moveToComponent(rewrite, from, count)
    return
  }
  if (topology.tracking !== 'some-optimisers' || listed) return
  const named = rewrite.at([...path, 'optimisers_on'])
  const counts = isTable(named) ? Object.values(named) : []
  const sum = counts.reduce<number>((total, panels) => total + (typeof panels === 'number' ? panels : 0), 0)
  if (sum > 0) rewrite.put(count, sum, [...path, 'optimisers_on'])
  else if (named === undefined)
    rewrite.flaws.push({
      path: from,
      message: 'missing; needed: how many panels have an optimiser, e.g. optimisers: 6',
    })
}
