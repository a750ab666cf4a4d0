import { InputError } from '../../errors.ts'
import type { Warning } from '../fit-result.ts'
import { refuseBadRows } from './bad-rows.ts'
import { FailedWhen } from './failed-when.ts'
import { type UnitInService, unitsInService } from './in-service.ts'
import type { OwnerLives } from './life-list.ts'
import { type LifeSettings, livesOf } from './lives.ts'
import type { OwnerSettings, UnitsAre } from './owner-reading.ts'
import { type OwnerFilesResult, ownerFilesResult } from './owner-result.ts'
import { ownerWarnings } from './owner-warnings.ts'
import { type Places, registerPlaces } from './places.ts'
import { type Register, readRegister } from './read-register.ts'
import { readTickets, type Tickets } from './read-tickets.ts'

/** What the two files give. */
export interface OwnerFiles {
  readonly lives: OwnerLives
  /** What is in service when the watch ends. */
  readonly inService: readonly UnitInService[]
  readonly result: OwnerFilesResult
  readonly warnings: readonly Warning[]
}

/**
 * Reads what owners have, a list of units and a list of tickets, into one life a unit.
 *
 * @param register - bytes of the list of units
 * @param tickets - bytes of the list of tickets, needed once the register is read
 * @param settings - see `OwnerSettings`
 * @returns the lives, what was decided, and warnings
 * @throws InputError with all rows that cannot be read, unless they are to be left out; UsageError where an option is
 *   missing
 */
export async function readOwnerFiles(
  register: AsyncIterable<Uint8Array>,
  tickets: AsyncIterable<Uint8Array>,
  settings: OwnerSettings,
): Promise<OwnerFiles> {
  const failedWhen = new FailedWhen(settings.failedWhen, settings.notWhen)
  const ticketsOf = (names: ReadonlyMap<string, number>, unread: ReadonlySet<string>): Promise<Tickets> =>
    readTickets(tickets, names, unread, failedWhen, {
      file: settings.tickets,
      headers: settings.headers.tickets,
      dateOrder: settings.dateOrder,
      wordsGiven: settings.failedWhen !== null,
    })
  const listed = await readRegister(register, {
    file: settings.register,
    headers: settings.headers.register,
    groupBy: settings.groupBy,
    dateOrder: settings.dateOrder,
  }).catch(async (cause: unknown) => {
    // faults of the tickets by themselves are reported at the same time
    const alone = await ticketsOf(new Map(), new Set()).then(
      () => null,
      (second: unknown) => second,
    )
    if (!(cause instanceof InputError && alone instanceof InputError)) throw cause
    throw new InputError([...cause.problems, ...alone.problems], { cause })
  })
  const places = registerPlaces(listed, settings.sameOutageDays)
  const ticketed = await ticketsOf(places.names, listed.unreadNames)
  refuseBadRows([listed.bad, ticketed.bad], settings.skipBadRows)
  if (places.places.length === 0) {
    const message = 'no row could be read'
    throw new InputError([
      ...listed.bad.problems,
      { file: settings.register, line: null, column: null, key: '', message },
    ])
  }
  const latest = Math.max(listed.latest?.day ?? -Infinity, ticketed.latest?.day ?? -Infinity)
  const watchEnds = settings.today ?? latest
  const unitsAre = whatNamesAre(listed, places, ticketed, settings)
  const life: LifeSettings = {
    watchEnds,
    since: settings.since,
    gapDays: settings.sameOutageDays,
    unitsAre: unitsAre.are,
  }
  const { lives, counts } = livesOf(places.places, places.targets, ticketed.failures, life)
  if (lives.length === 0) {
    const message = 'no unit was in service before the end of the watch; check --today and the dates'
    throw new InputError([{ file: settings.register, line: null, column: null, key: '', message }])
  }
  const reading = {
    settings,
    register: listed,
    tickets: ticketed,
    failedWhen,
    nRepeated: places.nRepeated,
    watchEnds,
    unitsAre,
  }
  return {
    lives,
    inService: unitsInService(places.places, lives, listed.undated, watchEnds, unitsAre.are),
    result: ownerFilesResult(reading, lives, counts),
    warnings: ownerWarnings(reading, lives, counts),
  }
}

/**
 * Whether names are those of places, where a replacement carries on under the same name, or of units. A register that
 * names both apart, or one name several times, has places. One that retires its units when they fail has units.
 */
function whatNamesAre(
  register: Register,
  { places, targets }: Places,
  tickets: Tickets,
  settings: OwnerSettings,
): UnitsAre {
  if (settings.unitsAre !== null) return { are: settings.unitsAre, says: 'as --units says' }
  if (register.hasPlaces) return { are: 'places', says: 'the register names places and units separately' }
  if (places.some(place => place.units.some(({ count }) => count > 1))) {
    return { are: 'places', says: 'some rows are of several units' }
  }
  if (places.some(place => place.units.length > 1)) {
    return { are: 'places', says: 'some names have several rows with days of installation of their own' }
  }
  let nFailed = 0
  let nRetiredThen = 0
  for (const [number, own] of tickets.failures) {
    const unit = places[targets[number]?.place ?? -1]?.units[0]
    if (unit === undefined) continue
    nFailed++
    const near = own.some(
      ({ day, closed }) =>
        unit.retired >= day - settings.sameOutageDays && unit.retired <= closed + RETIRED_WITHIN_DAYS,
    )
    if (near) nRetiredThen++
  }
  if (nFailed >= FEWEST_FAILED && 2 * nRetiredThen >= nFailed) {
    return { are: 'serials', says: `${nRetiredThen} of ${nFailed} units that failed are retired with their failure` }
  }
  return {
    are: 'places',
    says: 'one row a name, and units that fail are not retired; if replacements have rows of their own, say --units serials',
  }
}

/** A unit retired within so many days of its failure is retired for it (ours: as long as a repair may take). */
const RETIRED_WITHIN_DAYS = 90

/** Failed units under which nothing is concluded from their retirement (ours). */
const FEWEST_FAILED = 3
