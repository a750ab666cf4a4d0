import { type Problem, UsageError } from '../../errors.ts'
import { nearest } from '../../input/problems.ts'

/** A column that is searched for: its name, further headers it is known by, and whether the file must have it. */
export interface SoughtColumn<Name extends string> {
  readonly name: Name
  readonly aliases: readonly string[]
  readonly needed: boolean
}

/** The columns of a register. */
export const REGISTER_COLUMNS = [
  { name: 'unit', aliases: [], needed: false },
  { name: 'serial', aliases: ['serial_number', 'serial_no'], needed: false },
  { name: 'place', aliases: ['position'], needed: false },
  { name: 'model', aliases: [], needed: false },
  { name: 'batch', aliases: [], needed: false },
  { name: 'count', aliases: ['quantity'], needed: false },
  { name: 'in_service', aliases: ['installed', 'install_date'], needed: true },
  { name: 'retired', aliases: ['ended'], needed: false },
] as const satisfies readonly SoughtColumn<string>[]

/** The columns of a list of tickets. */
export const TICKET_COLUMNS = [
  { name: 'unit', aliases: ['serial', 'serial_number', 'serial_no', 'place', 'position'], needed: true },
  { name: 'date', aliases: ['day', 'opened'], needed: true },
  { name: 'closed', aliases: [], needed: false },
  { name: 'text', aliases: ['description'], needed: false },
] as const satisfies readonly SoughtColumn<string>[]

/** Name of a column of a register. */
export type RegisterColumn = (typeof REGISTER_COLUMNS)[number]['name']
/** Name of a column of a list of tickets. */
export type TicketColumn = (typeof TICKET_COLUMNS)[number]['name']

/** Headers by column name, of each file, as `--column` gives them. */
export interface OwnerHeaders {
  readonly register: ReadonlyMap<string, string>
  readonly tickets: ReadonlyMap<string, string>
}

/** A header given as this leaves the column out. */
const LEFT_OUT = '-'

/**
 * Reads `--column name=header` where register and tickets are read; `register.name=header` and `tickets.name=header`
 * speak of one of the files, and the header `-` leaves a column out.
 *
 * @param given - each as typed
 * @throws UsageError for a name that is not known
 */
export function readOwnerHeaders(given: readonly string[]): OwnerHeaders {
  const known = { register: REGISTER_COLUMNS.map(({ name }) => name), tickets: TICKET_COLUMNS.map(({ name }) => name) }
  const headers = { register: new Map<string, string>(), tickets: new Map<string, string>() }
  for (const text of given) {
    const match = /^(?:(register|tickets)\.)?([^=]+)=(.+)$/.exec(text)
    const [, file, name = '', header = ''] = match ?? []
    const files = (['register', 'tickets'] as const).filter(one => file === undefined || file === one)
    const taking = files.filter(one => known[one].some(column => column === name))
    if (taking.length === 0) {
      const names = [...new Set(files.flatMap(one => known[one]))]
      const guess = nearest(name, names)
      throw new UsageError(
        `--column ${text}: write name=header, where name is one of ${names.join(', ')}${guess === null ? '' : `; did you mean "${guess}"?`}`,
      )
    }
    for (const one of taking) headers[one].set(name, header)
  }
  return headers
}

/** Where the columns of a file are. */
export interface FoundColumns<Name extends string> {
  /** Index in a row, from 0; −1 where the file does not have the column. */
  readonly at: Readonly<Record<Name, number>>
  /** Header of each column that was found, as the file has it. */
  readonly headers: Readonly<Record<Name, string>>
  /** Headers that nothing takes. */
  readonly unused: readonly string[]
}

/**
 * Finds the columns of a register or of tickets; capitals, blanks and hyphens in headers do not matter.
 *
 * @param file - as the user named it
 * @param row - the first line
 * @param sought - what is looked for
 * @param given - headers from `--column`
 * @returns the columns, and all that is wrong with the header
 */
export function findOwnerColumns<Name extends string>(
  file: string,
  row: readonly string[],
  sought: readonly SoughtColumn<Name>[],
  given: ReadonlyMap<string, string>,
): { columns: FoundColumns<Name>; problems: Problem[] } {
  const problems: Problem[] = []
  const say = (key: string, message: string): void => {
    problems.push({ file, line: 1, column: null, key, message })
  }
  const plain = row.map(plainHeader)
  plain.forEach((header, index) => {
    if (header !== '' && plain.indexOf(header) !== index)
      say(header, `the header "${header}" occurs twice; rename or remove one of the two columns`)
  })
  const at = {} as Record<Name, number> // the loop fills in every name
  const headers = {} as Record<Name, string>
  const found = row.map(header => `"${header.trim()}"`).join(', ')
  for (const { name, aliases, needed } of sought) {
    const header = given.get(name)
    const names = header === undefined ? [name, ...aliases] : [plainHeader(header)]
    at[name] = header === LEFT_OUT ? -1 : (names.map(one => plain.indexOf(one)).find(index => index >= 0) ?? -1)
    headers[name] = row[at[name]]?.trim() ?? name
    if (at[name] >= 0 || header === LEFT_OUT) continue
    if (header !== undefined) say(name, `--column says its header is "${header}", but the file has ${found}`)
    else if (needed) {
      say(
        name,
        `the file has no column ${[name, ...aliases.slice(0, 2)].join(' or ')}; it has ${found}.${whichHeader(name, row, sought.some(one => one.name === 'in_service') ? 'register' : 'tickets')}`,
      )
    }
  }
  const taken = new Set<number>(Object.values<number>(at))
  const unused = row.filter((header, index) => header.trim() !== '' && !taken.has(index)).map(header => header.trim())
  return { columns: { at, headers, unused }, problems }
}

/** Parts of words in headers that owners give such a column. */
const USUAL_WORDS: Readonly<Record<string, readonly string[]>> = {
  unit: ['asset', 'unit', 'device', 'inverter no', 'inverter id', 'name', 'number'],
  in_service: ['commission', 'install', 'service', 'start', 'built', 'energi'],
  date: ['open', 'created', 'reported', 'date', 'day', 'raised'],
}

/**
 * What to add so that a column is found: with the header that is most likely meant, or a title above the header named.
 *
 * @param name - of the column
 * @param row - the first line
 * @param file - which of the two it is
 * @returns a sentence, with a blank before it
 */
export function whichHeader(name: string, row: readonly string[], file: 'register' | 'tickets'): string {
  const filled = row.filter(header => header.trim() !== '')
  if (filled.length < 2) return ' Line 1 looks like a title: remove the lines above the header'
  const near = nearest(name, row.map(plainHeader))
  const likely =
    row.find(header => near !== null && plainHeader(header) === near) ??
    (USUAL_WORDS[name] ?? []).flatMap(word => row.filter(header => header.toLowerCase().includes(word)))[0]
  return ` Say which it is: --column "${file}.${name}=${likely === undefined ? 'HEADER' : likely.trim()}"`
}

function plainHeader(header: string): string {
  return header
    .replace(/^\uFEFF/, '')
    .trim()
    .toLowerCase()
    .replace(/[\s-]+/g, '_')
}
