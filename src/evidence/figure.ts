import type { EvidenceRowKey } from './rows.ts'
import type { Stated } from './stated.ts'

/** One built-in figure. */
export interface EvidenceFigure extends Stated {
  /** Row of the evidence it belongs to, or `common`. */
  readonly row: EvidenceRowKey | 'common'
  /** Key of the scenario it fills, with dots; of failure modes a path that says the mode. */
  readonly key: string
  /** Unit in words; `share` is a number in [0, 1]; prices are in the currency of the evidence. */
  readonly unit: string
  /** What the report calls it; left out where the key that it fills has a phrase in the schema of the scenario. */
  readonly phrase?: string
}

/** Unit of prices in the evidence, US dollars of about 2025. */
export const EVIDENCE_CURRENCY = 'USD'
