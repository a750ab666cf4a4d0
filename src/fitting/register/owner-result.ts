import { dayText } from '../records/dates.ts'
import type { ColumnOrder } from './date-column.ts'
import type { TextCount } from './failed-when.ts'
import type { OwnerLives } from './life-list.ts'
import type { LifeCounts } from './lives.ts'
import type { OwnerReading } from './owner-reading.ts'

/** One thing that was decided in reading the files, and how often. */
export interface OwnerDecision {
  readonly code: string
  readonly about: 'register' | 'tickets' | 'lives'
  readonly count: number
  /** A few words, for the terminal. */
  readonly short: string
  /** In full. */
  readonly text: string
}

/** What was decided in reading a register and tickets; part of fit.json. */
export interface OwnerFilesResult {
  readonly register: string
  readonly tickets: string
  /** YYYY-MM-DD. */
  readonly watchEnds: string
  readonly watchEndsSays: string
  readonly watchStarts: string | null
  readonly sameOutageDays: number
  readonly namesAre: 'places' | 'serials'
  readonly namesAreSays: string
  readonly dateOrders: readonly ({ readonly file: 'register' | 'tickets' } & ColumnOrder)[]
  readonly unusedColumns: { readonly register: readonly string[]; readonly tickets: readonly string[] }
  readonly decisions: readonly OwnerDecision[]
  /** The most common texts of tickets. */
  readonly texts: { readonly failures: readonly TextCount[]; readonly others: readonly TextCount[] }
}

/** Texts shown of failures and of other tickets (ours: a screenful). */
const MOST_TEXTS = 10

/**
 * What was decided, for fit.json, the report and the terminal.
 *
 * @param reading - what was read
 * @param lives - what it gave
 * @param counts - of the lives
 * @returns decisions with a count of 0 left out, except the sums
 */
export function ownerFilesResult(reading: OwnerReading, lives: OwnerLives, counts: LifeCounts): OwnerFilesResult {
  const { settings, register, tickets, failedWhen, watchEnds, unitsAre } = reading
  const all = [
    ...registerDecisions(reading, counts),
    ...ticketDecisions(reading, counts),
    ...lifeDecisions(lives, counts),
  ]
  return {
    register: settings.register,
    tickets: settings.tickets,
    watchEnds: dayText(watchEnds),
    watchEndsSays:
      settings.today === null ? `the latest date in the files (${latestPlace(reading)})` : 'as --today says',
    watchStarts: settings.since === null ? null : dayText(settings.since),
    sameOutageDays: settings.sameOutageDays,
    namesAre: unitsAre.are,
    namesAreSays: unitsAre.says,
    dateOrders: [
      ...register.orders.map(order => ({ file: 'register' as const, ...order })),
      ...tickets.orders.map(order => ({ file: 'tickets' as const, ...order })),
    ],
    unusedColumns: { register: register.unused, tickets: tickets.unused },
    decisions: all.filter(({ count, code }) => count > 0 || SUMS.includes(code)),
    texts: { failures: failedWhen.common(true, MOST_TEXTS), others: failedWhen.common(false, MOST_TEXTS) },
  }
}

/** Decisions that are reported even where they are 0. */
const SUMS: readonly string[] = ['register-rows', 'ticket-rows', 'ticket-failures', 'lives']

function latestPlace({ settings, register, tickets }: OwnerReading): string {
  const inRegister = (register.latest?.day ?? -Infinity) >= (tickets.latest?.day ?? -Infinity)
  const place = inRegister ? register.latest : tickets.latest
  return `${inRegister ? settings.register : settings.tickets}, line ${place?.line ?? 1}`
}

function registerDecisions({ settings, register, nRepeated }: OwnerReading, counts: LifeCounts): OwnerDecision[] {
  const row = decider('register')
  const gap = settings.sameOutageDays
  return [
    row('register-rows', register.nRows, 'rows', 'rows of the register'),
    row('register-unreadable', register.bad.count, 'unreadable', 'rows that cannot be read, left out'),
    row(
      'register-repeated',
      nRepeated,
      'repeated',
      `rows that repeat one of the same unit (installed within ${gap} days), left out`,
    ),
    row(
      'register-several',
      counts.placeOfSeveral,
      'of several units',
      'places of several units; tickets do not say which of them failed, so each failure is taken to be of one that has not failed before',
    ),
    row(
      'register-after-watch',
      counts.unitAfterWatch,
      'after the watch',
      'units put into service after the end of the watch, left out',
    ),
    row(
      'register-retired',
      counts.unitRetired,
      'retired at work',
      'units retired while they worked; watched until then',
    ),
  ]
}

function ticketDecisions({ settings, tickets }: OwnerReading, counts: LifeCounts): OwnerDecision[] {
  const row = decider('tickets')
  const gap = settings.sameOutageDays
  return [
    row('ticket-rows', tickets.nRows, 'rows', 'tickets'),
    row('ticket-unreadable', tickets.bad.count, 'unreadable', 'tickets that cannot be read, left out'),
    row('ticket-no-failure', tickets.nNoFailure, 'no failure by text', 'tickets whose text is no failure, left out'),
    row('ticket-no-unit', tickets.nNoUnit, 'name no unit', 'failures that name no unit, left out'),
    row(
      'ticket-unknown-unit',
      tickets.nUnknownUnit,
      'unit not in register',
      'failures of a unit that the register does not have, left out',
    ),
    row(
      'ticket-other-spelling',
      tickets.nOtherSpelling,
      'unit spelt otherwise',
      'failures whose unit the register has with other blanks, hyphens or marks; taken as that unit',
    ),
    row(
      'ticket-unread-unit',
      tickets.nUnreadUnit,
      'unit unreadable',
      'failures of a unit whose row in the register cannot be read, left out',
    ),
    row(
      'ticket-before-service',
      counts.ticketBeforeInService,
      'before installation',
      'failures before their unit was put into service, left out',
    ),
    row(
      'ticket-none-in-service',
      counts.ticketNoneInService,
      'no unit in service',
      'failures while no unit was in service (retired, or failed for good), left out',
    ),
    row(
      'ticket-before-since',
      counts.ticketBeforeSince,
      'before the watch',
      'failures up to the day of --tickets-since, left out',
    ),
    row(
      'ticket-after-watch',
      counts.ticketAfterWatch,
      'after the watch',
      'failures after the end of the watch, left out',
    ),
    row(
      'ticket-same-outage',
      counts.ticketSameOutage,
      'same outage',
      `further tickets of an outage (within ${gap} days of its last day), joined to it`,
    ),
    row('ticket-failures', counts.ticketFailure, 'failures', 'failures that end a unit'),
    row(
      'ticket-late',
      counts.ticketLate,
      'of them late',
      `of these, dated up to ${gap} days after their unit was retired or replaced; taken as failed on that day`,
    ),
    row(
      'ticket-out-of-order',
      tickets.nOutOfOrder,
      'out of order',
      'failures written before an earlier one of the same unit; put in order of time',
    ),
    row(
      'ticket-closed-late',
      tickets.nClosedLate,
      'closed late',
      'tickets closed over a year after they were opened; their closing day is not used',
    ),
  ]
}

function lifeDecisions(lives: OwnerLives, counts: LifeCounts): OwnerDecision[] {
  const row = decider('lives')
  let units = 0
  let failed = 0
  for (const life of lives) {
    units += life.count
    if (life.failed) failed++
  }
  return [
    row('lives', units, 'units', 'units of records.csv, one a row where it has no count'),
    row('lives-failed', failed, 'failed', 'of these, failed'),
    row('lives-working', units - failed, 'working', 'of these, working when last seen'),
    row(
      'lives-before-watch',
      counts.lifeBeforeSince,
      'over before the watch',
      'units gone by the day of --tickets-since, left out',
    ),
    row(
      'successors-started',
      counts.successorStarted,
      'successors started',
      'units that failed and are followed by a successor from the end of the outage',
    ),
    row(
      'successors-listed',
      counts.successorListed,
      'successors listed',
      'units that failed and are followed by the next unit of the register in their place',
    ),
    row('no-successor', counts.noSuccessor, 'without successor', 'units that failed and are followed by none'),
    row(
      'replaced-no-ticket',
      counts.replacedWithoutTicket,
      'replaced, no ticket',
      'units replaced without a ticket that is a failure; taken as working until then',
    ),
  ]
}

function decider(about: OwnerDecision['about']) {
  return (code: string, count: number, short: string, text: string): OwnerDecision => ({
    code,
    about,
    count,
    short,
    text,
  })
}
