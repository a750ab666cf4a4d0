/** Where a cost line comes from, and so how often it is computed. */
type Origin =
  /** The scenario alone: the same in every draw. */
  | 'purchase'
  /** Prices and terms: one figure in each parameter set (`fixed-costs.ts`). */
  | 'set'
  /** Failures: one figure a lifetime, from that stage of the ledger. */
  | 'repairs'
  | 'outages'
  /** The history, whatever the cover: one figure a lifetime (`earnings-and-purchases.ts`). */
  | 'history'
  /** What still works at the horizon, where the scenario counts it (C6). */
  | 'horizon'

/** One line of lifetime cost (C7). */
export interface CostLineEntry {
  readonly from: Origin
  /** How it enters lifetime cost; -1: an income. */
  readonly sign: 1 | -1
  /** Acquisition if true, ownership if false (IEC 60300-3-3). */
  readonly acquisition: boolean
  /** Whether it is a value of energy, and so no part of `totals.withoutLostEnergy`. */
  readonly energy: boolean
  /** The segment of the stacked bars it is part of; null: never drawn as a cost. */
  readonly segment: 'purchase' | 'yearly' | 'repairs' | 'visits' | 'outages' | 'design' | 'later' | null
}

const PAID = { sign: 1, acquisition: false, energy: false } as const
const LOST = { sign: 1, acquisition: false, energy: true } as const

/**
 * The lines of lifetime cost (C7), in the order of results.json. Accounts, sums, results and report derive from this
 * list: a new line is an entry here, its formula (in `fixed-costs.ts` or in the stage of the ledger that finds it) and
 * its phrase in the report (`report/estimate/cost-words.ts`).
 */
export const COST_LINES = {
  upfront: { ...PAID, from: 'purchase', acquisition: true, segment: 'purchase' },
  yearly: { ...PAID, from: 'set', segment: 'yearly' },
  /** Parts and surcharges. */
  parts: { ...PAID, from: 'repairs', segment: 'repairs' },
  labour: { ...PAID, from: 'repairs', segment: 'repairs' },
  visits: { ...PAID, from: 'repairs', segment: 'visits' },
  /** Price of the offers taken (W6). */
  warranty: { ...PAID, from: 'purchase', acquisition: true, segment: 'purchase' },
  outageEnergy: { ...LOST, from: 'outages', segment: 'outages' },
  designEnergy: { ...LOST, from: 'set', segment: 'design' },
  batteryOutage: { ...LOST, from: 'outages', segment: 'outages' },
  /** From the start to the horizon, whatever fails (O7). */
  batteryEarnings: { ...LOST, from: 'history', sign: -1, segment: null },
  /** What is bought later (C8). */
  later: { ...PAID, from: 'history', segment: 'later' },
  residual: { ...PAID, from: 'horizon', sign: -1, segment: null },
} as const satisfies Record<string, CostLineEntry>

/** Name of a cost line. */
export type CostLine = keyof typeof COST_LINES

/** Cost lines of some origins. */
export type LinesFrom<From extends Origin> = {
  [Line in CostLine]: (typeof COST_LINES)[Line]['from'] extends From ? Line : never
}[CostLine]

/** Cost lines that no failure changes. */
export type FixedLine = LinesFrom<'purchase' | 'set'>

/** Every cost line, in the order of results.json. */
export const COST_LINE_NAMES = Object.keys(COST_LINES) as CostLine[] // keys of a literal: the type is exact

/**
 * The lines of some origins, in the order of the list.
 *
 * @param origins - at least one
 */
export function linesFrom<const From extends Origin>(...origins: readonly From[]): readonly LinesFrom<From>[] {
  const among: readonly Origin[] = origins
  // the filter matches LinesFrom
  return COST_LINE_NAMES.filter(line => among.includes(COST_LINES[line].from)) as LinesFrom<From>[]
}

/**
 * Sum of some lines whose amounts carry their signs in lifetime cost.
 *
 * @param lines - amount of each line
 * @param counts - which lines
 */
export function sumOfLines(
  lines: Readonly<Record<CostLine, number>>,
  counts: (line: CostLineEntry) => boolean,
): number {
  let sum = 0
  for (const line of COST_LINE_NAMES) if (counts(COST_LINES[line])) sum += lines[line]
  return sum
}

/**
 * Lifetime cost of some lifetimes (C7): the only place where it is summed.
 *
 * @param fixed - what no failure changes, present value
 * @param repairs - sum of the lines from repairs, by lifetime
 * @param outages - sum of the lines from outages, by lifetime
 * @param further - sum of all other lines, by lifetime, income negative
 * @param lifetimes - how many
 * @param total - filled
 */
export function lifetimeCosts(
  fixed: number,
  repairs: Float64Array,
  outages: Float64Array,
  further: Float64Array,
  lifetimes: number,
  total: Float64Array,
): void {
  for (let i = 0; i < lifetimes; i++) {
    total[i] = fixed + (repairs[i] ?? 0) + (outages[i] ?? 0) + (further[i] ?? 0)
  }
}
