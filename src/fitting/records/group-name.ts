import { onOneLine } from '../../plain-text.ts'

/** Longest name of a group. Ours: with the file before it, it still fits the 200 characters of `failure.records`. */
const MOST_CHARACTERS = 150

/**
 * The group that a cell names, so that `failure.yaml` can name it to a scenario.
 *
 * @param cell - as in the file
 * @returns on one line, without signs that cannot be shown; '' for an empty cell
 */
export function groupName(cell: string): string {
  return onOneLine(cell.trim())
}

/**
 * What is wrong with the name of a group.
 *
 * @param cell - as in the file
 * @returns words; null where nothing is
 */
export function groupNameFault(cell: string): string | null {
  if (cell.length <= MOST_CHARACTERS) return null
  return `the group "${cell.slice(0, 30)}…" has ${cell.length} characters; allowed: up to ${MOST_CHARACTERS}. Name another column with --by`
}
