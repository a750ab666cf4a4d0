import { createReadStream } from 'node:fs'
import { stat } from 'node:fs/promises'
import { extname } from 'node:path'
import { InputError } from '../../errors.ts'
import { streamCsv } from '../../input/csv.ts'
import { asReadError, readTextFrom } from '../../input/read-text.ts'
import { type ColumnPlan, planColumns } from './columns.ts'
import { chooseOption, type FleetSource } from './fleet-file.ts'
import { RoofOptions } from './roof-options.ts'

/** A site as it is in the table or folder, unread. */
export interface SiteTicket {
  /** Place among the sites, from 0. */
  readonly index: number
  readonly id: string
  /** Line of the table; null for files. */
  readonly line: number | null
  /** Cells in the order of the columns in use; null for files. */
  readonly cells: readonly string[] | null
  /** Text of the scenario file; null for tables, and where the file is gone. */
  readonly text: string | null
}

/**
 * The sites of a fleet, one by one (F1).
 *
 * @param source - table or folder
 * @param plan - columns in use; null for a folder
 * @param from - place of the first site wanted
 * @param to - place after the last site wanted
 * @throws InputError when the table cannot be read
 */
export async function* streamSites(
  source: FleetSource,
  plan: ColumnPlan | null,
  from = 0,
  to = Infinity,
): AsyncGenerator<SiteTicket> {
  if (source.form === 'folder') {
    for (let index = from; index < Math.min(to, source.files.length); index++) {
      const file = source.files[index] ?? ''
      const text = textOf(source.file, file)
      yield { index, id: file.slice(0, -extname(file).length), line: null, cells: null, text }
    }
    return
  }
  const { columns = [], idColumn = 'id' } = plan ?? {}
  let index = 0
  for await (const { columns: header, rows } of streamCsv(source.sitesPath, source.sites)) {
    const idPlace = header.indexOf(idColumn)
    const places = columns.map(({ column }) => header.indexOf(column))
    for (const { line, cells } of rows) {
      if (index >= to) return
      if (index >= from)
        yield { index, id: cells[idPlace] ?? '', line, cells: places.map(place => cells[place] ?? ''), text: null }
      index++
    }
  }
}

/**
 * The columns of a table of sites.
 *
 * @param source - the fleet
 * @returns null for a folder
 * @throws InputError when the header cannot be used
 */
export async function columnsOfTable(source: FleetSource): Promise<ColumnPlan | null> {
  if (source.form === 'folder') return null
  let header: readonly string[] = []
  for await (const { columns, rows } of streamCsv(source.sitesPath, source.sites)) {
    if (rows.length === 0) continue
    header = columns
    break
  }
  if (header.length === 0) throw problem(source.sites, 'the table has a header and no sites')
  const roofs = new RoofOptions(source.template, source.option)
  const plan = planColumns(
    header,
    source.wishes,
    roofs.names.map(name => roofs.templateOf(name)),
  )
  if (plan.problems.length > 0)
    throw new InputError(
      plan.problems.map(message => ({ file: source.sites, line: 1, column: null, key: '', message })),
    )
  const chooses = plan.columns.some(({ says }) => says === 'option' || says === 'topology')
  const usual = source.option === null && !chooses ? chooseOption(source.template, null) : ''
  if (typeof usual !== 'string')
    throw new InputError([{ file: source.file, line: null, column: null, key: 'option', message: usual.message }])
  return plan
}

/**
 * Bytes of the table, chunk by chunk, for the mark of the fleet; nothing for a folder.
 *
 * @param source - the fleet
 * @throws InputError when the table cannot be read
 */
export async function* bytesOfTable(source: FleetSource): AsyncGenerator<Uint8Array> {
  if (source.form === 'folder') return
  const stream: AsyncIterable<Uint8Array> = createReadStream(source.sitesPath)
  try {
    yield* stream
  } catch (cause) {
    throw asReadError(source.sites, cause)
  }
}

/**
 * What shows whether the table was changed between two readings: its length and its time.
 *
 * @param source - the fleet
 * @returns '' for a folder
 * @throws InputError when the table is gone
 */
export async function stampOfTable(source: FleetSource): Promise<string> {
  if (source.form === 'folder') return ''
  try {
    const { size, mtimeMs, ino } = await stat(source.sitesPath)
    return `${size} ${mtimeMs} ${ino}`
  } catch (cause) {
    throw problem(source.sites, 'there is no such file; check the name', cause)
  }
}

function textOf(folder: string, file: string): string | null {
  try {
    return readTextFrom(folder, file)
  } catch {
    return null
  }
}

function problem(file: string, message: string, cause?: unknown): InputError {
  return new InputError([{ file, line: null, column: null, key: '', message }], { cause })
}
