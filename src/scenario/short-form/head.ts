import type { Rewrite } from './rewrite.ts'

/** `start: 2027` is January of that year; `prices_from_evidence: no` is the same as left out. */
export function takeHeadWords(rewrite: Rewrite): void {
  const wish = rewrite.at(['prices_from_evidence'])
  if (wish === false || wish === 'no') rewrite.drop(['prices_from_evidence'])
  const start = rewrite.at(['start'])
  if (!/^\d{4}$/.test(String(start))) return
  rewrite.put(['start'], `${start}-01`, ['start'])
  rewrite.take(['start'], `start: ${start}-01, January`)
}
