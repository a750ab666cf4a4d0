/** Models, providers and later purchases that are listed by name. Ours: more would only fill pages. */
export const MOST_NAMED = 50

/**
 * Counts a name once more.
 *
 * @param counts - by name
 * @param name - to be counted
 */
export function countName(counts: Map<string, number>, name: string): void {
  // no list could show more names
  if (counts.size < 100_000 || counts.has(name)) counts.set(name, (counts.get(name) ?? 0) + 1)
}

/**
 * The names that occur most, at most fifty; of equals the one that sorts first.
 *
 * @param counts - by name
 */
export function mostFrequent(counts: ReadonlyMap<string, number>): string[] {
  return [...counts]
    .sort(([a, nA], [b, nB]) => nB - nA || (a < b ? -1 : 1))
    .slice(0, MOST_NAMED)
    .map(([name]) => name)
}
