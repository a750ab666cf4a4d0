import type { Picture, Table } from '../content.ts'

/** A box of the sheet: a heading and a few points. */
export interface SheetBox {
  readonly heading: string
  readonly points: readonly string[]
}

/** What the template of the sheet places: one page, complete in itself. */
export interface SheetContent {
  /** Whom it is written for. */
  readonly reader: string
  readonly title: string
  /** Years, currency, discount rate, and the date where one is given. */
  readonly facts: string
  /** Three sentences or fewer, the answer first. */
  readonly answer: readonly string[]
  readonly tables: readonly Table[]
  readonly figures: readonly Picture[]
  readonly boxes: readonly SheetBox[]
  readonly cautions: string
}

/** What every sheet says at its foot. */
export const SHEET_CAUTIONS =
  'Planning figures from simulated lifetimes, not an offer and not advice. Only failures of the hardware are counted; measured roofs lose more to dirt, shade and settings. The DC side of a solar roof is live in daylight: leave all work on it to licensed electricians. Local codes and network rules decide what may be installed.'
