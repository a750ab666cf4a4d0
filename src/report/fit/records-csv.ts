import { stringify } from 'csv-stringify/sync'
import { dayText } from '../../fitting/records/dates.ts'
import type { OwnerLife } from '../../fitting/register/life-list.ts'
import { cellText } from '../../input/cell-text.ts'

/** Rows written at a time (ours: memory). */
const ROWS_A_CHUNK = 100

const HEADER = ['unit', 'serial', 'batch', 'in_service', 'watched_from', 'ended', 'outcome', 'start_from', 'end_from']

/**
 * records.csv: the rows that were made of a register and tickets, to be looked through. `fit` reads it as any records
 * and then gives the same figures.
 *
 * @param lives - one row each; without any group there is no column `model`
 * @returns CSV with a header (RFC 4180), piece after piece
 */
export async function* recordsCsv(lives: Iterable<OwnerLife>): AsyncGenerator<Uint8Array> {
  const grouped = hasGroups(lives)
  const csv = (rows: readonly string[][]): Uint8Array => Buffer.from(stringify([...rows], { record_delimiter: '\r\n' }))
  yield csv([grouped ? ['model', ...HEADER] : HEADER])
  let rows: string[][] = []
  for (const life of lives) {
    rows.push(grouped ? [cellText(life.group), ...cellsOf(life)] : cellsOf(life))
    if (rows.length < ROWS_A_CHUNK) continue
    yield csv(rows)
    rows = []
  }
  if (rows.length > 0) yield csv(rows)
}

function hasGroups(lives: Iterable<OwnerLife>): boolean {
  for (const { group } of lives) if (group !== '') return true
  return false
}

function cellsOf(life: OwnerLife): string[] {
  return [
    cellText(life.place),
    cellText(life.serial),
    cellText(life.batch),
    dayText(life.from),
    life.watchedFrom === null ? '' : dayText(life.watchedFrom),
    dayText(life.to),
    life.failed ? 'failed' : 'working',
    life.startSays,
    life.endSays,
  ]
}
