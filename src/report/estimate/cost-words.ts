import type { CostLine, CostLineEntry } from '../../ledger/cost-lines.ts'
import { joinWords } from '../names.ts'
import type { View } from './view.ts'

/** What each line of lifetime cost is called (C7). */
export const COST_WORDS: Readonly<Record<CostLine, string>> = {
  upfront: 'Purchase, installed',
  warranty: 'Warranty bought in addition',
  yearly: 'Yearly costs',
  parts: 'Parts you pay',
  labour: 'Labour you pay',
  visits: 'Call-outs and roof access',
  outageEnergy: 'Energy lost to failures',
  designEnergy: 'Energy lost by design',
  batteryOutage: 'Battery idle while its inverter is down',
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
  outages: 'Energy lost to failures',
  design: 'Energy lost by design',
  later: 'Bought later',
}

/**
 * What a lifetime cost includes, as an aside (C7): what a battery earns and what is bought later only where an option has it.
 *
 * @param view - prepared results
 * @returns e.g. `purchase, repairs, call-outs and lost energy, less what a battery earns`
 */
export function countedWords(view: View): string {
  const any = (line: CostLine): boolean => view.results.options.some(option => option.costs[line] !== 0)
  return `${joinWords([
    'purchase',
    'repairs',
    'call-outs',
    'lost energy',
    ...(any('later') ? ['later purchases'] : []),
  ])}${any('batteryEarnings') ? ', less what a battery earns' : ''}`
}
