import type { SourceKey } from './sources.ts'

/** A number with its range, where one was given. */
interface Ranged {
  readonly value: number
  readonly low: number | null
  readonly high: number | null
}

/** A figure of ours that was judged before data on it were found. */
export interface ScoredJudgement {
  readonly what: string
  readonly unit: string
  /** As judged, before the source was found. */
  readonly judged: Ranged
  /** As the source has it. */
  readonly found: Ranged
  readonly source: SourceKey
}

/** Every judgement that a later source could check, oldest first. Add a line for each one that data can check. */
export const SCORED_JUDGEMENTS: readonly ScoredJudgement[] = [
  {
    what: 'plain string inverters failed by year 10',
    unit: 'share',
    judged: { value: 0.18, low: 0.074, high: 0.373 },
    found: { value: 0.167, low: 0.14, high: 0.199 },
    source: 'kato2011',
  },
  {
    what: 'early share of plain string inverters',
    unit: 'share',
    judged: { value: 0.02, low: 0.005, high: 0.06 },
    found: { value: 0.013, low: 0.009, high: 0.02 },
    source: 'maintenanceTickets',
  },
  {
    what: 'failures of the first quarter over those of the second half-year',
    unit: 'times',
    judged: { value: 1.92, low: 1.31, high: 2.6 },
    found: { value: 1.57, low: 1.36, high: 1.8 },
    source: 'maintenanceTickets',
  },
  {
    what: 'makers that close',
    unit: 'share per year',
    judged: { value: 0.03, low: 0.01, high: 0.08 },
    found: { value: 0.029, low: null, high: null },
    source: 'firmSurvival',
  },
  {
    what: 'defects of an inverter around 2000',
    unit: 'share per year',
    judged: { value: 0.1, low: null, high: null },
    found: { value: 0.12, low: 0.07, high: 0.21 },
    source: 'haeberlin2003',
  },
  {
    what: 'installers that close, counted from their first day',
    unit: 'share per year',
    judged: { value: 0.06, low: 0.05, high: 0.08 },
    found: { value: 0.091, low: null, high: null },
    source: 'firmSurvival',
  },
  {
    what: 'p90 of the days until somebody comes, over their median',
    unit: 'times',
    judged: { value: 3.21, low: null, high: null },
    found: { value: 9, low: 5, high: 14 },
    source: 'maintenanceTickets',
  },
]

/**
 * Whether a judgement held: the finding lies in the range judged; where none was judged, the judgement in the range found.
 *
 * @param scored - the judgement and the finding
 */
export function held({ judged, found }: ScoredJudgement): boolean {
  const lies = (value: number, { low, high }: Ranged): boolean =>
    low !== null && high !== null && low <= value && value <= high
  return judged.low === null ? lies(judged.value, found) : lies(found.value, judged)
}

/**
 * The score in a sentence.
 *
 * @returns e.g. `Of 7 of our judgements that a later source could check, 5 lay within their range.`
 */
export function scoreSentence(): string {
  const within = SCORED_JUDGEMENTS.filter(held).length
  return `Of ${SCORED_JUDGEMENTS.length} of our judgements that a later source could check, ${within} lay within their range.`
}
