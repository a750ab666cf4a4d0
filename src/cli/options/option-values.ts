import { UsageError } from '../../errors.ts'

/**
 * A whole number typed after an option.
 *
 * @param name - of the option, e.g. `--draws`
 * @param typed - as typed
 * @param least - smallest allowed
 * @param most - largest allowed
 * @throws UsageError with what was found and what is allowed
 */
export function readWhole(name: string, typed: string | boolean, least: number, most: number): number {
  const value = typeof typed === 'string' && /^\d+$/.test(typed) ? Number(typed) : Number.NaN
  if (value >= least && value <= most) return value
  throw new UsageError(`${name} takes a whole number from ${least} to ${most}; found "${String(typed)}"`)
}

/**
 * A share typed after an option: `0.5%` or `0.005`.
 *
 * @param name - of the option
 * @param typed - as typed
 * @throws UsageError unless it is over 0 and at most 1
 */
export function readShare(name: string, typed: string | boolean): number {
  const text = String(typed).trim()
  const value = /^\d*\.?\d+%$/.test(text)
    ? Number(text.slice(0, -1)) / 100
    : /^\d*\.?\d+$/.test(text)
      ? Number(text)
      : Number.NaN
  if (value > 0 && value <= 1) return value
  throw new UsageError(`${name} takes a share over 0 and up to 1, such as 0.5% or 0.005; found "${text}"`)
}

/**
 * A day of the calendar.
 *
 * @param name - of the option
 * @param typed - as typed; undefined: not given
 * @returns YYYY-MM-DD, or null where none was given
 * @throws UsageError unless it is a day that exists, written YYYY-MM-DD
 */
export function readDay(name: string, typed: string | boolean | undefined): string | null {
  if (typed === undefined) return null
  const text = String(typed).trim()
  const day = new Date(`${text}T00:00:00Z`)
  if (/^\d{4}-\d{2}-\d{2}$/.test(text) && !Number.isNaN(day.getTime()) && day.toISOString().startsWith(text))
    return text
  throw new UsageError(`${name} takes a day such as 2027-03-14; found "${text}"`)
}

/**
 * A locale for digits and separators.
 *
 * @param typed - as typed, e.g. `de-DE`
 * @throws UsageError for anything that is no language tag
 */
export function readLocale(typed: string | boolean): string {
  try {
    const [locale] = Intl.getCanonicalLocales(String(typed))
    if (locale !== undefined) return locale
  } catch {
    // reported below
  }
  throw new UsageError(`--locale takes a language tag such as en-GB or de-DE; found "${String(typed)}"`)
}

/**
 * How first failures are drawn.
 *
 * @param typed - as typed
 * @throws UsageError for any other word
 */
export function readPoints(typed: string | boolean): 'random' | 'even' {
  if (typed === 'random' || typed === 'even') return typed
  throw new UsageError(`--points takes random or even; found "${String(typed)}"`)
}

/**
 * The reader who is led through the report.
 *
 * @param typed - as typed
 * @throws UsageError for any other word
 */
export function readAudience(typed: string | boolean): 'buyer' | 'retailer' | 'owner' {
  if (typed === 'buyer' || typed === 'retailer' || typed === 'owner') return typed
  throw new UsageError(`--for takes buyer, retailer or owner; found "${String(typed)}"`)
}

/**
 * A folder typed after an option.
 *
 * @param name - of the option, e.g. `--out`
 * @param typed - as typed; undefined: not typed
 * @returns null where none is typed
 * @throws UsageError for an empty name
 */
export function readFolderName(name: string, typed: string | boolean | undefined): string | null {
  if (typed === undefined) return null
  if (typeof typed === 'string' && typed.trim() !== '') return typed
  throw new UsageError(
    `${name} takes the name of a folder; found "${String(typed)}". For the current folder write ${name} .`,
  )
}
