import type { CostLine, CostLineEntry } from '../ledger/cost-lines.ts'

/** What each line of lifetime cost is called (C7). */
export const COST_WORDS: Readonly<Record<CostLine, string>> = {
  upfront: 'Purchase, installed',
  warranty: 'Warranty bought in addition',
  yearly: 'Yearly costs',
  parts: 'Parts you pay',
  labour: 'Labour you pay',
  visits: 'Call-outs and roof access',
  outageEnergy: 'Energy lost while it stands still',
  designEnergy: 'Energy lost by design',
  batteryOutage: 'Battery idle while the inverter stands still',
  batteryEarnings: 'What the battery earns',
  later: 'Bought later',
  residual: 'Worth left at the end',
}

/** What each segment of the stacked bars is called, in the order in which they are stacked. */
export const SEGMENT_WORDS: Readonly<Record<NonNullable<CostLineEntry['segment']>, string>> = {
  purchase: 'Bought at the start',
  yearly: 'Yearly costs',
  repairs: 'Parts and labour you pay',
  visits: 'Call-outs and roof access',
  outages: 'Energy lost while it stands still',
  design: 'Energy lost by design',
  later: 'Bought later',
}
