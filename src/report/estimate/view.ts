import { ranked } from '../../analysis/comparison/same-job.ts'
import type { Comparison } from '../../analysis/results/comparison.ts'
import type { OptionResult } from '../../analysis/results/option.ts'
import type { Results } from '../../analysis/results.ts'
import { TOPOLOGIES } from '../../topologies/index.ts'
import { kindOf } from '../../topologies/kinds.ts'
import { formatAbout, formatGap, formatMoney, formatMoneyRange, formatPerDay } from '../format/money.ts'
import { DEFAULT_LOCALE, formatNumber } from '../format/number.ts'
import { formatYears } from '../format/quantity.ts'
import { plainName } from '../names.ts'

/** Results with what every section needs: the ranking, names, and money in the scenario's currency. */
export interface View {
  readonly results: Results
  readonly locale: string
  readonly horizonYears: number
  /** The horizon in words: `25 years`, `1 year`. */
  readonly horizon: string
  /**
   * Options by mean lifetime cost, lowest first; after them those with a battery of unknown worth, where others have
   * none: they do not do the same job (O7), and are neither `best` nor `second`.
   */
  readonly ranked: readonly OptionResult[]
  /** The options at the end of `ranked` that the ranking leaves out. */
  readonly leftOut: readonly OptionResult[]
  /** The lowest mean lifetime cost. */
  readonly best: OptionResult
  /** The second lowest; null with one option. */
  readonly second: OptionResult | null
  /** Place in the scenario, from 0; sets colour and line pattern. */
  place(option: OptionResult): number
  option(id: string): OptionResult
  /** e.g. `Plain string inverter (A)`. */
  name(option: OptionResult | string): string
  /** In generic terms, e.g. `option B (a robust string inverter)`. */
  generic(option: OptionResult): string
  /** The comparison of two options, whichever way round it is listed; null if there is none. */
  comparison(one: OptionResult, other: OptionResult): Comparison | null
  money(value: number, standardError: number | null): string
  /** An amount a day, to the hundredth. */
  perDay(value: number): string
  /** For sentences: never more than three digits. */
  about(value: number, standardError: number): string
  /** A difference in sentences: never more than two digits. */
  gap(value: number, standardError: number): string
  moneyRange(low: number, high: number, standardError: number | null): string
}

/**
 * Prepares results for the sections.
 *
 * @param results - at least one option
 * @param locale - BCP 47 tag of digits and separators
 * @returns the view
 * @throws RangeError without options, or for an id that no option has
 */
export function viewOf(results: Results, locale: string = DEFAULT_LOCALE): View {
  const { currency, horizonYears } = results.scenario
  const inRanking = ranked(results.options.map(({ batteryWorth }) => ({ battery: batteryWorth })))
  const sorted = (rank: boolean): OptionResult[] =>
    results.options
      .filter((_, place) => inRanking[place] === rank)
      .sort((a, b) => a.lifetimeCost.mean - b.lifetimeCost.mean)
  const ordered = sorted(true)
  const best = ordered[0]
  if (best === undefined) throw new RangeError('a report needs at least one option')
  const option = (id: string): OptionResult => {
    const found = results.options.find(candidate => candidate.id === id)
    if (found === undefined) throw new RangeError(`no option has the id ${id}`)
    return found
  }
  return {
    results,
    locale,
    horizonYears,
    horizon: formatYears(horizonYears, locale),
    ranked: [...ordered, ...sorted(false)],
    leftOut: sorted(false),
    best,
    second: ordered[1] ?? null,
    place: one => results.options.indexOf(one),
    option,
    name: one => {
      const named = typeof one === 'string' ? option(one) : one
      return `${plainName(named.name)} (${named.id})`
    },
    generic,
    comparison: (one, other) =>
      results.comparisons.find(
        pair =>
          (pair.option === one.id && pair.against === other.id) ||
          (pair.option === other.id && pair.against === one.id),
      ) ?? null,
    money: (value, standardError) => formatMoney(value, standardError, currency, locale),
    perDay: value => formatPerDay(value, currency, locale),
    about: (value, standardError) => formatAbout(value, standardError, currency, locale),
    gap: (value, standardError) => formatGap(Math.abs(value), standardError, currency, locale),
    moneyRange: (low, high, standardError) => formatMoneyRange(low, high, standardError, currency, locale),
  }
}

/**
 * That a figure comes from fewer draws than the run (X2), as a sentence.
 *
 * @param view - prepared results
 * @param draws - draws it comes from
 * @returns one sentence; none where all were played
 */
export function fewerDraws(view: View, draws: number): string[] {
  if (draws >= view.results.draws) return []
  const said = (count: number): string => formatNumber(count, 1, view.locale)
  return [`From the first ${said(draws)} of the ${said(view.results.draws)} lifetimes of each option.`]
}

/**
 * The comparison of the two options that cost least.
 *
 * @param view - prepared results
 * @returns null with one option
 */
export function bestPair(view: View): Comparison | null {
  return view.second === null ? null : view.comparison(view.best, view.second)
}

function generic(option: OptionResult): string {
  const label = Object.values(TOPOLOGIES).find(topology => topology.key === option.topology)?.label ?? option.topology
  const tier = option.populations[0]?.tier
  const battery = option.populations.some(({ kind }) => kindOf(kind).role === 'battery') ? ' with a battery' : ''
  const words = `${tier ? `${tier} ` : ''}${label}${battery}`
  return `option ${option.id} (${/^\S+ units$/.test(label) ? '' : 'a '}${words})`
}
