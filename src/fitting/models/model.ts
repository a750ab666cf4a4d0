import type { AgeUnit } from '../age-unit.ts'
import type { Form } from '../likelihood/form.ts'
import type { Pool } from '../likelihood/pool.ts'

/** A failure model. One file a model; `index.ts` is the list; no other file names one. */
export interface FailureModel {
  /** The word of fit.json. */
  readonly name: string
  /** As the report calls it, e.g. "one Weibull curve". */
  readonly label: string
  /** One sentence for a reader who has never heard of it. */
  readonly description: string
  /** The model it adds something to; null for the plainest. */
  readonly extends: string | null
  /** Failures under which it is not tried (ours: about five a figure to be estimated). */
  readonly fewestFailures: number
  /** Its modes, in the age unit of the records. */
  form(ageUnit: AgeUnit): Form
  /** Points from which the search begins, in the coordinates of the fit. */
  starts(pooled: Pool, ageUnit: AgeUnit): number[][]
}
