/** The values of a scenario with how well each is known, and notes for the reader. */

import type { FigureKnown } from '../../evidence/stated.ts'

/** How well a value is known: the user's own, or the grade of the evidence. */
export type Known = 'yours' | FigureKnown

/** One line of the list of assumptions: a value with its unit and where it came from. */
export interface Assumption {
  /** Key path; options and components are named, e.g. `Plain string inverter / string-inverter / warranty.years`. */
  readonly key: string
  /** The value in use (the middle of a range); text where it is no number. */
  readonly value: number | string | null
  readonly low: number | null
  readonly high: number | null
  readonly unit: string
  /** Where it comes from: 'your scenario' or author, year, title. */
  readonly source: string
  readonly known: Known
  /** Weakest point of the figure in a few words; null for what the user wrote. */
  readonly weakest: string | null
}

/** A note for the reader; `option` is the id (A, B, …) of the option it is about, or null for all. */
export interface Note {
  /** Stable kebab-case word. */
  readonly code: string
  /** One or two sentences. */
  readonly text: string
  readonly option: string | null
}
