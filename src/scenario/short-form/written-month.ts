const NAMES = ['jan', 'feb', 'mar', 'apr', 'may', 'jun', 'jul', 'aug', 'sep', 'oct', 'nov', 'dec']

/**
 * A month written in another way than 2027-03.
 *
 * @param written - e.g. `March 2027`, `2027-3`, `2027-03-15`, `03/2027`
 * @returns as 2027-03; null where it is that already, or no month
 * @example writtenMonth('Mar 2027') // '2027-03'
 */
export function writtenMonth(written: unknown): string | null {
  if (typeof written !== 'string' || /^\d{4}-\d\d$/.test(written)) return null
  const words = /^([a-z]+)\.?\s+(\d{4})$/i.exec(written.trim())
  const yearFirst = /^(\d{4})[-/.](\d{1,2})(?:[-/.]\d{1,2})?$/.exec(written.trim())
  const monthFirst = /^(\d{1,2})[-/.](\d{4})$/.exec(written.trim())
  const year = words?.[2] ?? yearFirst?.[1] ?? monthFirst?.[2]
  const month =
    words?.[1] === undefined
      ? Number(yearFirst?.[2] ?? monthFirst?.[1])
      : 1 + NAMES.indexOf(words[1].slice(0, 3).toLowerCase())
  return year === undefined || !(month >= 1 && month <= 12) ? null : `${year}-${String(month).padStart(2, '0')}`
}
