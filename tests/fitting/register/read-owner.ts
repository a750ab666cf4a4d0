import { fitRecords } from '../../../src/fitting/fit-records.ts'
import type { FitResult } from '../../../src/fitting/fit-result.ts'
import { type Records, readRecords } from '../../../src/fitting/records/read-records.ts'
import type { OwnerLife } from '../../../src/fitting/register/life-list.ts'
import { type OwnerFiles, readOwnerFiles } from '../../../src/fitting/register/owner-files.ts'
import type { OwnerSettings } from '../../../src/fitting/register/owner-reading.ts'
import { recordsCsv } from '../../../src/report/fit/records-csv.ts'

/** The bytes of a text. */
export async function* bytesOf(text: string): AsyncGenerator<Uint8Array> {
  yield new TextEncoder().encode(text)
}

/** Reads a register and tickets given as text; options as a user leaves them. */
export async function readOwner(
  register: string,
  tickets: string,
  more: Partial<OwnerSettings> = {},
): Promise<OwnerFiles & { readonly lives: readonly OwnerLife[] }> {
  const files = await readOwnerFiles(bytesOf(register), bytesOf(tickets), {
    register: 'units.csv',
    tickets: 'tickets.csv',
    headers: { register: new Map(), tickets: new Map() },
    groupBy: null,
    failedWhen: null,
    notWhen: null,
    today: null,
    since: null,
    dateOrder: null,
    sameOutageDays: 14,
    unitsAre: null,
    skipBadRows: false,
    ...more,
  })
  return { ...files, lives: [...files.lives] }
}

/** The rows that were made, read as `fit` reads them. */
export function recordsOf({ lives }: OwnerFiles): Promise<Records> {
  return readRecords(recordsCsv(lives), {
    file: 'records.csv',
    ageUnit: 'years',
    choice: { named: {}, groupBy: null },
    skipBadRows: false,
    asOfDay: null,
  })
}

/** The whole way from two files to the fit. */
export async function fitOwner(files: OwnerFiles): Promise<FitResult> {
  return fitRecords(await recordsOf(files), {
    file: 'units.csv',
    tool: { name: 'lifetally', version: '0' },
    ageUnit: 'years',
    seed: 1,
    shape: null,
    prior: null,
    warrantyYears: null,
    made: files,
  })
}

/** The count of one decision; 0 where it was not met. */
export function decided({ result }: OwnerFiles, code: string): number {
  return result.decisions.find(decision => decision.code === code)?.count ?? 0
}

/** All tickets, each in exactly one place. */
export function placedTickets(files: OwnerFiles): number {
  const codes = [
    'ticket-unreadable',
    'ticket-no-failure',
    'ticket-no-unit',
    'ticket-unknown-unit',
    'ticket-unread-unit',
    'ticket-before-service',
    'ticket-none-in-service',
    'ticket-before-since',
    'ticket-after-watch',
    'ticket-same-outage',
    'ticket-failures',
  ]
  return codes.reduce((sum, code) => sum + decided(files, code), 0)
}
