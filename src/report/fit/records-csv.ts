import { stringify } from 'csv-stringify/sync'
import { dayText } from '../../fitting/records/dates.ts'
import type { OwnerLife } from '../../fitting/register/life-list.ts'
import { cellText } from '../../input/cell-text.ts'

/** Rows written at a time; ours, to save memory. */
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
  const grouped = anyOf(lives, ({ group }) => group !== '')
  const counted = anyOf(lives, ({ count }) => count > 1)
  const rowOf = (head: string[], rest: string[], count: string): string[] => [
    ...(grouped ? head : []),
    ...rest,
    ...(counted ? [count] : []),
  ]
  const csv = (rows: readonly string[][]): Uint8Array => Buffer.from(stringify([...rows], { record_delimiter: '\r\n' }))
  yield csv([rowOf(['model'], HEADER, 'count')])
  let rows: string[][] = []
  for (const life of lives) {
    rows.push(rowOf([cellText(life.group)], cellsOf(life), String(life.count)))
    if (rows.length < ROWS_A_CHUNK) continue
    yield csv(rows)
    rows = []
  }
  if (rows.length > 0) yield csv(rows)
}

function anyOf(lives: Iterable<OwnerLife>, holds: (life: OwnerLife) => boolean): boolean {
  for (const life of lives) if (holds(life)) return true
  return false
}

function cellsOf(life: OwnerLife): string[] {
  return [
    cellText(life.slot === 0 ? life.place : `${life.place} / ${life.slot}`),
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
