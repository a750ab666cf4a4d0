import type { KeyPath } from '../../input/problems.ts'
import type { Rewrite } from './rewrite.ts'
import { yearsWord } from './years-word.ts'

/** `warranty: 25` and `warranty: 25 years` are years of parts cover. */
export function takeWarranty(rewrite: Rewrite, at: KeyPath): void {
  const written = rewrite.at(at)
  const years = yearsWord(written)
  if (years === null) return
  rewrite.take(at, `warranty: {years: ${years}}, cover of parts`)
  rewrite.put(at, {}, at)
  rewrite.put([...at, 'years'], years, at)
}

/** The warranty of an option, as in a quote, is that of its first component. */
export function takeWarrantyOfOption(rewrite: Rewrite, path: KeyPath): void {
  const from = [...path, 'warranty']
  const written = rewrite.at(from)
  if (written === undefined || written === null) return
  const first = rewrite.table([...path, 'components', 0])
  if (first === null) return
  if (first.warranty !== undefined && first.warranty !== null) {
    const message = 'the first component has a warranty of its own; keep one of the two'
    rewrite.flaws.push({ path: from, message })
    rewrite.drop(from)
    return
  }
  const years = yearsWord(written)
  rewrite.take(
    from,
    years === null
      ? `warranty of the ${String(first.kind)}`
      : `warranty: {years: ${years}} of the ${String(first.kind)}, cover of parts`,
  )
  rewrite.move(from, [...path, 'components', 0, 'warranty'])
  if (years === null) return
  const at = [...path, 'components', 0, 'warranty']
  rewrite.put(at, {}, from)
  rewrite.put([...at, 'years'], years, from)
}
