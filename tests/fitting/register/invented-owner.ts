import { dayText } from '../../../src/fitting/records/dates.ts'
import { openStream, streamKey } from '../../../src/numerics/random/streams.ts'

/** A register and tickets drawn from a known truth, with the errors of real files. */
export interface InventedOwner {
  readonly register: string
  readonly tickets: string
  readonly layout: Layout
}

/** How a register names its units. */
export type Layout = 'places' | 'places-and-serials' | 'serials'

/** The truth. */
export interface OwnerTruth {
  readonly shape: number
  readonly lifeYears: number
}

const LAYOUTS: readonly Layout[] = ['places', 'places-and-serials', 'serials']
const MONTHS = ['Jan', 'Feb', 'Mar', 'Apr', 'May', 'Jun', 'Jul', 'Aug', 'Sep', 'Oct', 'Nov', 'Dec']
const FIRST = Date.UTC(2006, 0, 1) / 86_400_000
const LAST = Date.UTC(2026, 2, 31) / 86_400_000

/** Texts of failures all hold one of these words. */
export const FAILED_WHEN = 'replaced,swapped,dead,exchange'
const FAILURES = [
  'Inverter replaced under warranty',
  'REPLACED, isolation fault',
  'unit swapped; "no output"',
  'dead on arrival of technician, new unit fitted',
  'Exchange of device',
]
const OTHERS = [
  'Firmware update',
  'Cleaning, filters',
  'data link lost, reset',
  'Inspection (yearly)',
  '',
  'string fuse',
]

/**
 * Draws a portfolio.
 *
 * @param seed - of everything
 * @param nPlaces - places with one unit at a time
 * @param truth - the Weibull curve of every unit
 */
export function inventedOwner(seed: number, nPlaces: number, truth: OwnerTruth): InventedOwner {
  const stream = openStream(streamKey(seed, 'invented owner'), 0)
  const layout = LAYOUTS[seed % 3] ?? 'places'
  const pick = <T>(list: readonly T[]): T => list[Math.floor(stream.uniform() * list.length)] ?? (list[0] as T)
  const chance = (share: number): boolean => stream.uniform() < share
  const whole = (from: number, to: number): number => from + Math.floor(stream.uniform() * (to - from + 1))

  /** The register writes day-month in several forms; tickets month-day or the year first, some with a time. */
  const inRegister = (day: number): string => {
    const [year, month, date] = dayText(day).split('-').map(Number) as [number, number, number]
    const form = stream.uniform()
    if (form < 0.4) return `${date}/${month}/${year}`
    if (form < 0.6) return `${String(date).padStart(2, '0')}.${String(month).padStart(2, '0')}.${year}`
    return form < 0.8 ? dayText(day) : `${date} ${MONTHS[month - 1]} ${year}`
  }
  const inTickets = (day: number): string => {
    const [year, month, date] = dayText(day).split('-').map(Number) as [number, number, number]
    return chance(0.5) ? `${month}/${date}/${year}` : `${dayText(day)}T0${whole(0, 9)}:15:00`
  }
  /** Names as people type them again. */
  const retyped = (name: string): string => (chance(0.1) ? ` ${name.toLowerCase()}  ` : name)

  const rows: string[] = []
  const tickets: string[] = []
  const ticket = (name: string, day: number, closed: number | null, text: string): void => {
    const quoted = text.includes(',') || text.includes('"') ? `"${text.replace(/"/g, '""')}"` : text
    tickets.push(
      [retyped(name), inTickets(day), closed === null || closed > LAST ? '' : inTickets(closed), quoted].join(','),
    )
  }
  let serialNumber = 100_000
  for (let place = 0; place < nPlaces; place++) {
    const placeName = `Site ${1 + Math.floor(place / 4)}-${1 + (place % 4)}`
    const first = whole(FIRST, LAST - 400)
    // A tenth of the places are given up while they work, on a day independent of failures.
    const given = chance(0.1) ? whole(first + 30, LAST + 3000) : Infinity
    const ends = Math.min(given, LAST)
    let from = first
    for (let n = 0; ; n++) {
      const serial = `SN${serialNumber++}`
      const name = layout === 'serials' || (layout === 'places-and-serials' && chance(0.6)) ? serial : placeName
      const life = Math.max(1, Math.round(365 * truth.lifeYears * stream.exponential() ** (1 / truth.shape)))
      const fails = from + life
      const failed = fails <= ends
      // Replaced four to thirty days later.
      const back = fails + whole(4, 30)
      const listed = n === 0 || layout !== 'places'
      const goneWith =
        failed && layout !== 'places'
          ? layout === 'serials' && chance(0.9)
            ? back
            : null
          : given <= LAST
            ? given
            : null
      const retired = goneWith === null ? '' : inRegister(goneWith)
      if (listed && !chance(0.01)) {
        const row = [placeName, serial, inRegister(from), retired]
        rows.push(row.join(','))
        if (chance(0.01)) rows.push(row.join(',')) // written twice
      } else if (listed) {
        // The day of installation is missing: neither the unit nor its tickets can be used.
        rows.push([placeName, serial, '', retired].join(','))
      }
      for (let day = from + whole(10, 900); day < Math.min(fails, ends); day += whole(60, 1500))
        ticket(name, day, null, pick(OTHERS))
      if (!failed) break
      const text = pick(FAILURES)
      ticket(name, fails, chance(0.7) ? back : null, text)
      if (chance(0.3))
        ticket(name, Math.min(LAST, fails + whole(0, 4)), null, chance(0.5) ? pick(FAILURES) : pick(OTHERS))
      if (chance(0.05)) ticket(name, fails, chance(0.5) ? back : null, text) // entered twice
      from = back
      if (from >= ends) break
    }
  }
  for (let n = 0; n < nPlaces / 100; n++) ticket(`Gate ${n}`, whole(FIRST, LAST), null, pick(FAILURES))
  ticket('', LAST, null, 'Inspection (yearly)')
  shuffle(rows, stream.uniform.bind(stream))
  shuffle(tickets, stream.uniform.bind(stream))
  const head = { places: 'Unit', 'places-and-serials': 'Unit,Serial', serials: 'Site,Unit' }[layout]
  const columns = layout === 'places' ? rows.map(row => row.replace(/,SN\d+,/, ',')) : rows
  return {
    register: `\uFEFF${[`${head},Install date,Retired`, ...columns].join('\r\n')}\r\n`,
    tickets: `${['Unit,Opened,Closed,Description', ...tickets].join('\n')}\n`,
    layout,
  }
}

function shuffle(list: string[], uniform: () => number): void {
  for (let i = list.length - 1; i > 0; i--) {
    const j = Math.floor(uniform() * (i + 1))
    const kept = list[i] as string
    list[i] = list[j] as string
    list[j] = kept
  }
}
