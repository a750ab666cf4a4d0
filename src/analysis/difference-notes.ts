import type { Note } from '../scenario/model/assumption.ts'
import type { Option, Scenario } from '../scenario/model.ts'
import type { OptionResult } from './results/option.ts'

/** What the notes need of a result. */
export type Worth = Pick<OptionResult, 'name' | 'costs' | 'waitingPolicy'>

/**
 * Where the options are not counted alike: when somebody comes for failed units (O3a), how failures are noticed (O2),
 * energy lost by design; with what the difference is worth where the run has it. And where dead units stay unseen (O2),
 * because that can save more call-outs than it loses energy.
 *
 * @param scenario - the site, its currency and the options
 * @param results - one an option, in the same order
 * @returns notes of the whole comparison; none where the options are alike and monitored
 */
export function differenceNotes(
  scenario: Pick<Scenario, 'currency' | 'site' | 'options'>,
  results: readonly Worth[],
): Note[] {
  const { currency, site, options } = scenario
  const quoted = site.generation.form !== 'arrays'
  return [
    ...visitsDiffer(results, currency),
    ...monitoringDiffers(options),
    ...unseenUnits(options, results, currency),
    ...(quoted ? lossesDiffer(options, results, currency) : []),
  ]
}

function visitsDiffer(results: readonly Worth[], currency: string): Note[] {
  const waiting = results.flatMap(({ name, waitingPolicy }) =>
    waitingPolicy === null ? [] : [{ name, waitingPolicy }],
  )
  const each = waiting.map(({ name, waitingPolicy: { cost, against, saves } }) => {
    const rule =
      against === null
        ? 'a visit for each failure'
        : `a visit for ${against.waitForUnits} failed units, or after ${against.waitAtMostDays} days`
    const present = Math.min(...cost.flat()) + saves
    return { rule, text: `${name}: ${rule}, ${comparedTo(present - (cost[0]?.[0] ?? present), currency)}` }
  })
  if (new Set(each.map(({ rule }) => rule)).size < 2) return []
  const text = `Options differ in when somebody comes for failed units. Compared with a visit as soon as one unit is down, which repairs all that are down: ${each.map(one => one.text).join('; ')}. Residual value is counted.`
  return [{ code: 'visits-differ', text, option: null }]
}

/** A cost less another in words. */
function comparedTo(difference: number, currency: string): string {
  const amount = Math.round(Math.abs(difference))
  if (amount === 0) return 'no different'
  return `${currency} ${amount} ${difference < 0 ? 'cheaper' : 'dearer'}`
}

const NOTICED = {
  gateway: 'by a gateway, which can fail and is paid for when it does',
  'built-in': 'by monitoring that is taken never to fail',
  none: 'without monitoring',
} as const

function monitoringDiffers(options: readonly Option[]): Note[] {
  const ways = (['gateway', 'built-in', 'none'] as const).flatMap(way => {
    const names = options.filter(({ monitoring }) => (monitoring ?? 'gateway') === way).map(({ name }) => name)
    return names.length === 0 ? [] : [`${NOTICED[way]} (${names.join('; ')})`]
  })
  if (ways.length < 2) return []
  const text = `Options differ in how a failure is noticed: ${ways.join(', ')}. What that is worth is not worked out; the costs of a gateway are counted only where an option lists one.`
  return [{ code: 'monitoring-differs', text, option: null }]
}

/** O2: without monitoring an option with many units can come out cheaper, and not because it is better. */
function unseenUnits(options: readonly Option[], results: readonly Worth[], currency: string): Note[] {
  const each = results.flatMap(({ name, waitingPolicy }, i) =>
    options[i]?.monitoring === 'none' && waitingPolicy !== null
      ? [`${currency} ${Math.round(waitingPolicy.oneUnitYear.value)} of energy a year with ${name}`]
      : [],
  )
  if (each.length === 0) return []
  const text = `Without monitoring nobody sees a dead unit: it is replaced months late, together with others or never. Each dead unit loses ${each.join(', ')}; a call-out saved can be worth more, so the option can come out cheaper than with monitoring. It is then cheaper because dead units stay on the roof.`
  return [{ code: 'unseen-units', text, option: null }]
}

function lossesDiffer(options: readonly Option[], results: readonly Worth[], currency: string): Note[] {
  const shares = options.map(({ designLosses }) => JSON.stringify(designLosses))
  if (new Set(shares).size < 2) return []
  const each = results.map(({ name, costs }) => `${currency} ${Math.round(costs.designEnergy)} for ${name}`).join(', ')
  const text = `Options are given different losses by design, which count over the years as ${each}. The difference is as good as the shares in the quotes.`
  return [{ code: 'losses-differ', text, option: null }]
}
