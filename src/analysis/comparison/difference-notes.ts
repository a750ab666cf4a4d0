import { sumOf } from '../../numerics/sum.ts'
import type { Note } from '../../scenario/model/assumption.ts'
import type { Option, Scenario } from '../../scenario/model.ts'
import type { Comparison } from '../results/comparison.ts'
import type { OptionResult } from '../results/option.ts'
import type { Estimate } from '../results/spread.ts'

/** What the notes need of a result. */
export type Worth = Pick<OptionResult, 'id' | 'name' | 'costs' | 'energy' | 'waitingPolicy' | 'countedAlike'>

/**
 * Where the options are not counted alike (O3a): when failed units are visited, how failures are noticed (O2), what the
 * price includes, energy lost by design; each with what the difference is worth. And where failed units are not noticed (O2),
 * because that can save more call-outs than it loses energy.
 *
 * @param scenario - the site, its currency and the options
 * @param results - one an option, in the same order
 * @param comparisons - of their pairs
 * @returns notes of the whole comparison; none where the options are alike and monitored
 */
export function differenceNotes(
  scenario: Pick<Scenario, 'currency' | 'site' | 'options'>,
  results: readonly Worth[],
  comparisons: readonly Comparison[],
): Note[] {
  const { currency, site, options } = scenario
  const quoted = site.generation.form !== 'arrays'
  return [
    ...visitsDiffer(options, results, currency),
    ...monitoringDiffers(options, results, currency),
    ...unseenUnits(options, results, currency),
    ...includesWorth(options, results, comparisons, currency),
    ...(quoted ? lossesDiffer(options, results, currency) : []),
  ]
}

function visitsDiffer(options: readonly Option[], results: readonly Worth[], currency: string): Note[] {
  const each = results.flatMap(({ name, countedAlike }, i) => {
    const worth = countedAlike?.visitAtOnce ?? null
    return worth === null ? [] : [`${name}: ${ruleOf(options[i]?.visitPolicy ?? null)}, ${comparedTo(worth, currency)}`]
  })
  if (each.length === 0) return []
  const text = `Options differ in when failed units are visited. Compared with a visit as soon as one unit is down, which repairs all that are down: ${each.join('; ')}. ${drawsOf(results)}`
  return [{ code: 'visits-differ', text, option: null }]
}

function ruleOf(policy: Option['visitPolicy']): string {
  return policy === null
    ? 'a visit for each failure'
    : `a visit for ${policy.waitForUnits} failed units, or after ${policy.waitAtMostDays} days`
}

const NOTICED = {
  gateway: 'a gateway, which can fail and is paid for when it does',
  'built-in': 'monitoring that is assumed never to fail',
  none: 'no monitoring',
} as const

function monitoringDiffers(options: readonly Option[], results: readonly Worth[], currency: string): Note[] {
  const each = results.flatMap(({ name, countedAlike }, i) => {
    const worth = countedAlike?.perfectMonitoring ?? null
    const way = NOTICED[options[i]?.monitoring ?? 'gateway']
    return worth === null ? [] : [`${name}: ${way}, ${comparedTo(worth, currency)}`]
  })
  if (each.length === 0) return []
  const text = `Options differ in how a failure is noticed. Compared with monitoring that never fails and costs nothing: ${each.join('; ')}. ${drawsOf(results)}`
  return [{ code: 'monitoring-differs', text, option: null }]
}

/** A difference to what an option would cost if treated as the others, in words. */
function comparedTo({ mean, standardError }: Estimate, currency: string): string {
  const [amount, error] = [Math.round(Math.abs(mean)), Math.round(standardError)]
  if (amount === 0 && error === 0) return 'no different'
  if (Math.abs(mean) < 2 * standardError) return `no different within the error of ${currency} ${error}`
  return `${currency} ${amount}${error === 0 ? '' : ` ± ${error}`} ${mean < 0 ? 'cheaper' : 'dearer'}`
}

function drawsOf(results: readonly Worth[]): string {
  const most = Math.max(...results.map(({ countedAlike }) => countedAlike?.draws ?? 0))
  return `From at most ${most} lifetimes of each option; ± is one standard error.`
}

/** O2: without monitoring an option with many units can be cheaper, and not because it is better. */
function unseenUnits(options: readonly Option[], results: readonly Worth[], currency: string): Note[] {
  const each = results.flatMap(({ name, waitingPolicy }, i) =>
    options[i]?.monitoring === 'none' && waitingPolicy !== null
      ? [`${currency} ${Math.round(waitingPolicy.oneUnitYear.value)} of energy a year with ${name}`]
      : [],
  )
  if (each.length === 0) return []
  const text = `Without monitoring a failed unit is not noticed: it is replaced months late, together with others or never. Each failed unit loses ${each.join(', ')}; a call-out saved can be worth more, so the option can be cheaper than with monitoring. It is then cheaper because failed units are not replaced.`
  return [{ code: 'unseen-units', text, option: null }]
}

/** What work that only some prices include has to cost to reverse the comparison; for a battery, what it earns. */
function includesWorth(
  options: readonly Option[],
  results: readonly Worth[],
  comparisons: readonly Comparison[],
  currency: string,
): Note[] {
  const words = [...new Set(options.flatMap(({ includes }) => includes))]
  const texts = words.flatMap(word => {
    const having = results.filter((_, i) => options[i]?.includes.includes(word))
    const lacking = results.filter(
      (_, i) => !options[i]?.includes.includes(word) && (word !== 'battery' || options[i]?.battery !== null),
    )
    return cheapestPair(having, lacking, comparisons).map(({ has, lacks, over }) => {
      const least = `${currency} ${Math.round(Math.abs(over.mean))} ± ${Math.round(over.standardError)}`
      const lead = `The price of ${has} includes ${word}, that of ${lacks} does not.`
      return over.mean > 0
        ? `${lead} As quoted, ${lacks} is ${least} cheaper over its life: it stays the cheaper only if the same work costs less than that.`
        : `${lead} As quoted, ${has} is ${least} cheaper over its life even so; the same work would add to that.`
    })
  })
  const earning = results.filter((_, i) => options[i]?.includes.includes('battery'))
  if (earning.length > 0 && options.some(({ battery }) => battery === null)) {
    const each = earning.map(({ name, costs }) => `${currency} ${Math.round(0 - costs.batteryEarnings)} with ${name}`)
    texts.push(`What a battery in the price earns is counted over the years, before outages: ${each.join(', ')}.`)
  }
  return texts.map(text => ({ code: 'includes-worth', text, option: null }))
}

/** The cheapest option with something in its price and the cheapest without, where a verdict compares them. */
function cheapestPair(
  having: readonly Worth[],
  lacking: readonly Worth[],
  comparisons: readonly Comparison[],
): { has: string; lacks: string; over: Estimate }[] {
  const pairs = comparisons.filter(({ verdict }) => verdict !== null)
  const found = having.flatMap(has =>
    lacking.flatMap(lacks => {
      const pair = pairs.find(({ option, against }) => [has.id, lacks.id].every(id => id === option || id === against))
      if (pair === undefined) return []
      const mean = pair.option === has.id ? pair.meanDifference : 0 - pair.meanDifference
      const cost = (one: Worth): number => sumOf(Object.values(one.costs))
      return [
        {
          has: has.name,
          lacks: lacks.name,
          over: { mean, standardError: pair.standardError },
          cost: cost(has) + cost(lacks),
        },
      ]
    }),
  )
  return found.toSorted((a, b) => a.cost - b.cost).slice(0, 1)
}

function lossesDiffer(options: readonly Option[], results: readonly Worth[], currency: string): Note[] {
  const shares = options.map(({ designLosses }) => JSON.stringify(designLosses))
  if (new Set(shares).size < 2) return []
  const each = results
    .map(({ name, costs, energy }) => {
      const kwh = sumOf(Object.values(energy.designLossKwh))
      return `${currency} ${Math.round(costs.designEnergy)} for ${name} (${Math.round(kwh)} kWh)`
    })
    .join(', ')
  const text = `The quotes give different design losses, which cost over the years ${each}. The difference is as reliable as the shares in the quotes.`
  return [{ code: 'losses-differ', text, option: null }]
}
