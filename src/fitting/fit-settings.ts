import type { AgeUnit } from './age-unit.ts'
import type { Warning } from './fit-result.ts'
import type { Prior } from './likelihood/prior.ts'
import type { OwnerFilesResult } from './register/owner-result.ts'

/** How records are fitted. */
export interface FitSettings {
  /** As the user named the file. */
  readonly file: string
  readonly tool: { readonly name: string; readonly version: string }
  readonly ageUnit: AgeUnit
  /** Keys the random streams of the joint draws (N3). */
  readonly seed: number
  /** Shape held at this figure; null: estimated. */
  readonly shape: number | null
  readonly prior: Prior | null
  /** Years of the warranty under which failures were recorded; null: not given. */
  readonly warrantyYears: number | null
  /** What was decided in making the rows of a register and tickets, and warnings about it. */
  readonly made?: { readonly result: OwnerFilesResult; readonly warnings: readonly Warning[] }
}
