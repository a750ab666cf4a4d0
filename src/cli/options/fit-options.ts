import { UsageError } from '../../errors.ts'
import { figureOf, findFigure } from '../../evidence/index.ts'
import { EVIDENCE_ROWS } from '../../evidence/rows.ts'
import { AGE_UNITS, type AgeUnit, unitsPerYear } from '../../fitting/age-unit.ts'
import type { Prior } from '../../fitting/likelihood/prior.ts'
import { readOwnerHeaders } from '../../fitting/register/owner-columns.ts'
import type { OwnerSettings } from '../../fitting/register/owner-reading.ts'
import { DATE_ORDERS, readWrittenDay } from '../../fitting/register/written-day.ts'
import { nearest } from '../../input/problems.ts'

/** Options of `lifetally fit` as they were typed. */
export interface FitOptions {
  readonly register?: string
  readonly tickets?: string
  readonly failedWhen?: string
  readonly notWhen?: string
  readonly today?: string
  readonly ticketsSince?: string
  readonly dateOrder?: string
  readonly sameOutage?: string
  readonly units?: string
  readonly by?: string
  readonly column?: readonly string[]
  readonly ageUnit: string
  readonly asOf?: string
  readonly skipBadRows?: boolean
  readonly shape?: string
  readonly prior?: string
  readonly priorShape?: string
  readonly priorLife?: string
  readonly warrantyYears?: string
  readonly seed: string
  readonly out?: string
  readonly json?: boolean
  readonly quiet?: boolean
}

/** Options that only a register with tickets takes, with what is typed for each. */
const OWNER_OPTIONS = [
  ['failedWhen', '--failed-when'],
  ['notWhen', '--not-when'],
  ['today', '--today'],
  ['ticketsSince', '--tickets-since'],
  ['dateOrder', '--date-order'],
  ['sameOutage', '--same-outage'],
  ['units', '--units'],
] as const

/** Days between tickets of one outage (a judgement). */
const SAME_OUTAGE_DAYS = '14'

/** Where the records come from. */
export type FitSource =
  | { readonly kind: 'records'; readonly path: string }
  | { readonly kind: 'owner'; readonly settings: OwnerSettings }

/**
 * Where the records come from: one file of rows, or a register and tickets.
 *
 * @param path - the argument; undefined: none
 * @param options - as typed
 * @throws UsageError where the two do not go together
 */
export function readSource(path: string | undefined, options: FitOptions): FitSource {
  const { register, tickets } = options
  if (register === undefined && tickets === undefined) {
    if (path === undefined) throw new UsageError('name a file of records, or give --register FILE and --tickets FILE')
    for (const [key, option] of OWNER_OPTIONS) {
      if (options[key] !== undefined)
        throw new UsageError(`${option} needs --register and --tickets; leave it out, or give both files`)
    }
    return { kind: 'records', path }
  }
  if (register === undefined || tickets === undefined) {
    const missing = register === undefined ? '--register FILE, a list of units' : '--tickets FILE, a list of tickets'
    throw new UsageError(`--register and --tickets need each other; add ${missing}`)
  }
  if (path !== undefined)
    throw new UsageError(`${path}: give either a file of records, or --register and --tickets, not both`)
  if (register === '-' && tickets === '-')
    throw new UsageError('--register and --tickets cannot both be read from standard input; name a file for one')
  if (options.asOf !== undefined) throw new UsageError('--as-of needs a file of records; write --today here')
  return {
    kind: 'owner',
    settings: {
      register,
      tickets,
      headers: readOwnerHeaders(options.column ?? []),
      groupBy: options.by ?? null,
      failedWhen: options.failedWhen ?? null,
      notWhen: options.notWhen ?? null,
      today: options.today === undefined ? null : readDate('--today', options.today),
      since: options.ticketsSince === undefined ? null : readDate('--tickets-since', options.ticketsSince),
      dateOrder: options.dateOrder === undefined ? null : readWord('--date-order', options.dateOrder, DATE_ORDERS),
      sameOutageDays: readNumber('--same-outage', options.sameOutage ?? SAME_OUTAGE_DAYS, 0, 365),
      unitsAre: options.units === undefined ? null : readWord('--units', options.units, ['places', 'serials'] as const),
      skipBadRows: options.skipBadRows === true,
    },
  }
}

/**
 * The age unit.
 *
 * @param text - as typed
 * @throws UsageError for any other word
 */
export function readAgeUnit(text: string): AgeUnit {
  return readWord('--age-unit', text, AGE_UNITS)
}

/**
 * A number within bounds.
 *
 * @param option - for the message
 * @param text - as typed
 * @param least - lowest allowed
 * @param most - highest allowed
 * @throws UsageError
 */
export function readNumber(option: string, text: string, least: number, most: number): number {
  const value = Number(text)
  if (text.trim() === '' || !(value >= least && value <= most)) {
    throw new UsageError(`${option} ${text}: write a number from ${least} to ${most}`)
  }
  return value
}

/**
 * A date whose order of day and month is not in doubt.
 *
 * @param option - for the message
 * @param text - as typed
 * @returns days since 1970-01-01
 * @throws UsageError
 */
export function readDate(option: string, text: string): number {
  const day = readWrittenDay(text.trim())
  if (day === null || day.dayMonth !== day.monthDay) {
    throw new UsageError(`${option} ${text}: write a date like 2026-03-31`)
  }
  return day.dayMonth
}

function readWord<Word extends string>(option: string, text: string, words: readonly Word[]): Word {
  const known = words.find(word => word === text)
  if (known !== undefined) return known
  const guess = nearest(text, words)
  throw new UsageError(
    `${option} ${text}: write one of ${words.join(', ')}${guess === null ? '' : `; did you mean ${guess}?`}`,
  )
}

/**
 * The prior: as typed, else from the evidence.
 *
 * @param options - as typed
 * @param ageUnit - of the records
 * @returns null without a prior
 * @throws UsageError
 */
export function readPrior(options: FitOptions, ageUnit: AgeUnit): Prior | null {
  const known = options.prior === undefined ? null : evidencePrior(options.prior, ageUnit)
  const shape = options.priorShape === undefined ? known?.shape : readRange('--prior-shape', options.priorShape)
  const life = options.priorLife === undefined ? known?.life : readRange('--prior-life', options.priorLife)
  return shape == null && life == null ? null : { shape: shape ?? null, life: life ?? null }
}

/** The evidence on wear-out of one kind: 10 % and 90 % points of shape and characteristic life. */
function evidencePrior(text: string, ageUnit: AgeUnit): Prior {
  const rows = EVIDENCE_ROWS.filter(known => findFigure(known, 'failure.wear_out.shape') !== null)
  const row = rows.find(known => known === text || known === `${text} plain`)
  if (row === undefined) {
    const guess = nearest(text, rows)
    throw new UsageError(
      `--prior ${text}: the evidence has ${rows.join(', ')}${guess === null ? '' : `; did you mean ${guess}?`}`,
    )
  }
  const range = (key: string, factor: number): readonly [number, number] | null => {
    const { low, high } = figureOf(row, key)
    return low === null || high === null ? null : [low * factor, high * factor]
  }
  return {
    shape: range('failure.wear_out.shape', 1),
    life: range('failure.wear_out.life_years', unitsPerYear(ageUnit)),
  }
}

function readRange(option: string, text: string): [number, number] {
  const [low, high] = text.split('..').map(Number)
  if (low === undefined || high === undefined || !(low > 0 && high > low && high < Infinity)) {
    throw new UsageError(`${option} ${text}: write low..high, e.g. 2..5, with 0 < low < high`)
  }
  return [low, high]
}

/**
 * The command that makes the files again; it does not depend on where they are written.
 *
 * @param path - the argument; undefined: none
 * @param options - as typed
 */
export function commandLine(path: string | undefined, options: FitOptions): string {
  const words = ['lifetally', 'fit', ...(path === undefined ? [] : [quoted(path)])]
  const add = (option: string, value: string | undefined): void => {
    if (value !== undefined) words.push(option, quoted(value))
  }
  add('--register', options.register)
  add('--tickets', options.tickets)
  for (const [key, option] of OWNER_OPTIONS) add(option, options[key])
  add('--by', options.by)
  for (const column of options.column ?? []) add('--column', column)
  if (options.ageUnit !== 'years') add('--age-unit', options.ageUnit)
  add('--as-of', options.asOf)
  if (options.skipBadRows === true) words.push('--skip-bad-rows')
  add('--shape', options.shape)
  add('--prior', options.prior)
  add('--prior-shape', options.priorShape)
  add('--prior-life', options.priorLife)
  add('--warranty-years', options.warrantyYears)
  if (options.seed !== '1') add('--seed', options.seed)
  return words.join(' ')
}

function quoted(text: string): string {
  return /^[\w./=:-]+$/.test(text) ? text : `'${text.replace(/'/g, "'\\''")}'`
}
