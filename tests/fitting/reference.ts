import { readFileSync } from 'node:fs'
import { type LifeRows, rowsOf } from '../../src/fitting/rows.ts'

/** One fitted data set of tests/reference/weibull-estimation.json; limits and errors as its head says. */
export interface ReferenceCase {
  readonly id: string
  readonly rows: readonly { t?: number; d?: number; entry?: number; lo?: number; hi?: number | null; w?: number }[]
  readonly published: readonly { known: string; reference: string; values?: Record<string, number> }[]
  readonly expected: {
    readonly scale: number
    readonly shape: number
    readonly log_likelihood: number
    readonly aic: number
    readonly se_log_scale: number
    readonly se_log_shape: number
    readonly cov_log_scale_log_shape: number
    readonly se_scale: number
    readonly se_shape: number
    readonly mean_life: number
    readonly scale_ci95_likelihood_ratio: readonly [number, number]
    readonly shape_ci95_likelihood_ratio: readonly [number, number]
    readonly quantiles: readonly { p: number; estimate: number; se_log: number }[]
    readonly survival?: readonly { t: number; survival: number; ci95_wald_cloglog: readonly [number, number] }[]
  }
}

export function reference<T>(name: string): T {
  return JSON.parse(readFileSync(new URL(`../reference/${name}.json`, import.meta.url), 'utf8')) as T
}

export const estimationCases = reference<{ cases: readonly ReferenceCase[] }>('weibull-estimation').cases

export function referenceRows(rows: ReferenceCase['rows']): LifeRows {
  return rowsOf(
    rows.map(row =>
      row.t === undefined
        ? { afterAge: row.lo ?? 0, beforeAge: row.hi ?? Infinity, count: row.w ?? 1 }
        : { startAge: row.entry ?? 0, afterAge: row.t, beforeAge: row.d === 1 ? row.t : Infinity },
    ),
  )
}
