import type { EvidenceRowKey } from './rows.ts'
import type { SourceKey } from './sources.ts'

/** A published figure that a row is compared with and that fills no key: a second point, or a bound. */
export interface CrossCheck {
  readonly row: EvidenceRowKey
  /** Share of units failed by this age, years. */
  readonly ageYears: number
  /** `point`: the row lies within low and high; `upper-bound`: the row's middle lies below the value, never on it. */
  readonly kind: 'point' | 'upper-bound'
  readonly value: number
  /** 10 % and 90 % points; null for a bound. */
  readonly low: number | null
  readonly high: number | null
  readonly source: SourceKey
  /** What it is, and why it is not used as a middle. */
  readonly remark: string
}

/** A bound is never used as a middle: none of these figures fills a key of a scenario. */
export const CROSS_CHECKS: readonly CrossCheck[] = [
  {
    row: 'string-inverter plain',
    ageYears: 10,
    kind: 'point',
    value: 0.167,
    low: 0.14,
    high: 0.199,
    source: 'kato2011',
    remark: '43 of 257 inverters replaced within ten years, parts included; range from the count (binomial).',
  },
  {
    row: 'panel-level-unit',
    ageYears: 24,
    kind: 'upper-bound',
    value: 0.259,
    low: null,
    high: null,
    source: 'afridi2023',
    remark: 'No failure among ten units: 1 − 0.05^(1/10) at 95 % confidence. It comes from the number of units.',
  },
  {
    row: 'optimiser',
    ageYears: 24,
    kind: 'upper-bound',
    value: 0.259,
    low: null,
    high: null,
    source: 'afridi2023',
    remark: 'The bound for panel-level units, which are in the same place.',
  },
]
