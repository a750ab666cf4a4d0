import type { FailedWhen } from './failed-when.ts'
import type { OwnerHeaders } from './owner-columns.ts'
import type { Register } from './read-register.ts'
import type { Tickets } from './read-tickets.ts'
import type { DateOrder } from './written-day.ts'

/** How a register and its tickets are read. */
export interface OwnerSettings {
  /** Files as the user named them. */
  readonly register: string
  readonly tickets: string
  readonly headers: OwnerHeaders
  readonly groupBy: string | null
  /** `--failed-when`; null: not given. */
  readonly failedWhen: string | null
  /** `--not-when`; null: not given. */
  readonly notWhen: string | null
  /** Last day of the watch, days since 1970-01-01; null: the latest day in the files. */
  readonly today: number | null
  readonly since: number | null
  readonly dateOrder: DateOrder | null
  readonly sameOutageDays: number
  /** What names are; null: as the register shows. */
  readonly unitsAre: 'places' | 'serials' | null
  readonly skipBadRows: boolean
}

/** What was read, for results and warnings. */
export interface OwnerReading {
  readonly settings: OwnerSettings
  readonly register: Register
  readonly tickets: Tickets
  readonly failedWhen: FailedWhen
  readonly nRepeated: number
  readonly watchEnds: number
  readonly unitsAre: UnitsAre
}

/** What the names in the register are, and why. */
export interface UnitsAre {
  readonly are: 'places' | 'serials'
  readonly says: string
}
