/**
 * Years written as a quote writes them.
 *
 * @param written - a number, or text such as `25 years`, `25-year`, `10 yrs`
 * @returns years; null where it says something else
 * @example yearsWord('25 years') // 25
 */
export function yearsWord(written: unknown): number | null {
  if (typeof written === 'number') return written
  if (typeof written !== 'string') return null
  const parts = /^\s*(\d+(?:\.\d+)?)[\s-]*(?:years?|yrs?\.?|y)?\s*$/i.exec(written)
  return parts === null ? null : Number(parts[1])
}
