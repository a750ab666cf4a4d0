import { show } from '../../input/problems.ts'
import type { Warning } from '../fit-result.ts'
import { dayText } from '../records/dates.ts'
import type { BadRows } from './bad-rows.ts'
import type { OwnerLives } from './life-list.ts'
import type { LifeCounts } from './lives.ts'
import type { OwnerReading } from './owner-reading.ts'

/** Tickets under which there is no warning about them (ours). */
const FEWEST = 3

/** Share of the failures from which what was left out may bend the curve (ours). */
const NOTABLE_SHARE = 0.05

/** Share of the failures from which replacements without a ticket are named (ours). */
const REPLACED_SHARE = 0.1

/** Failures expected before the first ticket, from which their absence is no chance (ours: exp(-5) is under 1 %). */
const MISSING_FAILURES = 5

/**
 * Warnings about a register and its tickets.
 *
 * @param reading - what was read
 * @param lives - what it gave
 * @param counts - of the lives
 */
export function ownerWarnings(reading: OwnerReading, lives: OwnerLives, counts: LifeCounts): Warning[] {
  const { settings, register, tickets, watchEnds } = reading
  const warnings: Warning[] = []
  const say = (code: string, text: string): void => {
    warnings.push({ code, group: null, text })
  }
  const notable = (count: number, share = NOTABLE_SHARE): boolean =>
    count >= FEWEST && count >= share * counts.ticketFailure
  for (const [file, nRows, bad] of [
    [settings.register, register.nRows, register.bad],
    [settings.tickets, tickets.nRows, tickets.bad],
  ] as const) {
    if (bad.count > 0) say('rows-left-out', leftOut(file, nRows, bad))
  }
  if (!tickets.hasText && settings.failedWhen === null) {
    say(
      'every-ticket',
      'The tickets have no text, so each counts as a failure. A ticket is not always a failure; if some are not, lives look too short.',
    )
  }
  if (!register.hasRetired) {
    say(
      'no-retired',
      `The register has no column retired, so every unit without a failure counts as working on ${dayText(watchEnds)}. If some had gone by then, lives look too long.`,
    )
  }
  if (notable(tickets.nUnknownUnit)) {
    say(
      'unknown-units',
      `${tickets.nUnknownUnit} failures are of units that the register does not have, the first ${show(tickets.firstUnknown)}. If these are units of the register under other names, lives look too long.`,
    )
  }
  if (notable(counts.ticketBeforeInService)) {
    say(
      'present-units-only',
      `${counts.ticketBeforeInService} failures lie before the installation of their unit. The register seems to list present units only; those that failed before them are missing, and lives look too long. Add them, with the day they were retired.`,
    )
  }
  if (notable(counts.ticketNoneInService)) {
    say(
      'failed-twice',
      `${counts.ticketNoneInService} failures are of units that had failed or were retired before. If a replacement keeps the name of the unit it replaces, say --units places.`,
    )
  }
  if (notable(counts.replacedWithoutTicket, REPLACED_SHARE)) {
    say(
      'replaced-no-ticket',
      `${counts.replacedWithoutTicket} units were replaced without a ticket that is a failure, against ${counts.ticketFailure} that failed. They count as working until then; if they failed, lives look too long. Look at --failed-when.`,
    )
  }
  const missing = missingFailures(lives, tickets.firstDay, settings.since)
  if (tickets.firstDay !== null && missing >= MISSING_FAILURES) {
    say(
      'tickets-start-late',
      `The first ticket is of ${dayText(tickets.firstDay)}, and at the rate seen since then about ${Math.round(missing)} failures came before it. If tickets were not kept from the start, lives look too long; say --tickets-since ${dayText(tickets.firstDay)}.`,
    )
  }
  return warnings
}

function leftOut(file: string, nRows: number, bad: BadRows): string {
  const first = bad.problems[0]
  const example = first === undefined ? '' : ` The first is line ${first.line}: ${first.message}.`
  return `${bad.count} of ${nRows} rows of ${file} could not be read and were left out.${example}`
}

/** Failures that units should have had before the first ticket, at the rate of the time since. */
function missingFailures(lives: OwnerLives, firstDay: number | null, since: number | null): number {
  if (firstDay === null || since !== null) return 0
  let daysBefore = 0
  let daysSince = 0
  let failed = 0
  for (const life of lives) {
    daysBefore += life.count * Math.max(0, Math.min(life.to, firstDay) - life.from)
    daysSince += life.count * Math.max(0, life.to - Math.max(life.from, firstDay))
    if (life.failed) failed++
  }
  return daysSince > 0 ? (failed * daysBefore) / daysSince : 0
}
