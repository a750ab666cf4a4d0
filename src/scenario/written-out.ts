import { isTable, withUsualParts } from './usual-parts.ts'

/**
 * A scenario as parsed, in its full form, before it is checked: each option lists its components, and a warranty that
 * stands with the option has gone to the first of them. A column of a fleet can then fill any of their keys (F7a).
 *
 * @param value - plain data, of any shape
 * @returns the same where there is nothing to write out; never changed in place
 */
export function writtenOut(value: unknown): unknown {
  const full = withUsualParts(value)
  if (!isTable(full) || !Array.isArray(full.options)) return full
  return { ...full, options: full.options.map(withWarrantyInside) }
}

/** Two warranties at once stay as they are: the rules of the scenario speak of them. */
function withWarrantyInside(option: unknown): unknown {
  if (!isTable(option) || !isTable(option.warranty) || !Array.isArray(option.components)) return option
  const [first, ...others]: readonly unknown[] = option.components
  if (!isTable(first) || first.warranty !== undefined) return option
  const { warranty, ...rest } = option
  return { ...rest, components: [{ ...first, warranty }, ...others] }
}
