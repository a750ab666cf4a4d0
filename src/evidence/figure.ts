import type { SourceKey } from './sources.ts'

/** How well a built-in figure is known: read in a source, recalled without having it at hand, or judged. */
export type FigureKnown = 'published' | 'recalled' | 'judgement'

/** The rows of the evidence: one a kind of component, three for string inverters; `common` holds for all. */
export const EVIDENCE_ROWS = [
  'string-inverter budget',
  'string-inverter plain',
  'string-inverter robust',
  'hybrid-inverter',
  'panel-level-unit',
  'optimiser',
  'gateway',
] as const

/** One of the rows of the evidence. */
export type EvidenceRowKey = (typeof EVIDENCE_ROWS)[number]

/** One built-in figure. */
export interface Figure {
  /** Row of the evidence it belongs to, or `common`. */
  readonly row: EvidenceRowKey | 'common'
  /** Key of the scenario it fills, with dots; of failure modes a path that says the mode. */
  readonly key: string
  readonly value: number
  /** 10 % and 90 % points; both null where no range is told. */
  readonly low: number | null
  readonly high: number | null
  /** Unit in words; `share` is a number in [0, 1]; prices are in the currency of the evidence. */
  readonly unit: string
  readonly source: SourceKey
  readonly known: FigureKnown
  /** One line: what it rests on and how far to trust it. */
  readonly remark: string
}

/** Unit of prices in the evidence, US dollars of about 2025. */
export const EVIDENCE_CURRENCY = 'USD'
