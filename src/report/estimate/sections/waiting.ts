import type { OptionResult } from '../../../analysis/results/option.ts'
import { lineChart } from '../../charts/lines.ts'
import { lineKey } from '../../charts/look.ts'
import { type Finding, finding, type Picture, table } from '../../content.ts'
import { formatNumber } from '../../format/number.ts'
import { formatDays, formatEnergy } from '../../format/quantity.ts'
import { joinList } from '../../names.ts'
import { howKnown } from '../margin.ts'
import { fewerDraws, type View } from '../view.ts'

type Policy = NonNullable<OptionResult['waitingPolicy']>

const DASHES = ['none', '8 4', '4 3', '1 3', '12 3 2 3', '2 6']

/**
 * Whether to repair one dead small unit at once or wait for more (O3).
 *
 * @param view - prepared results
 * @returns the finding; null where no option has several units to visit
 */
export function waiting(view: View): Finding | null {
  const all = view.ranked.flatMap(option =>
    option.waitingPolicy === null ? [] : [{ option, policy: option.waitingPolicy }],
  )
  const first = all[0]
  if (first === undefined) return null
  const worthIt = all.filter(({ policy }) => policy.best.waitForUnits > 1 && policy.saves >= 2 * policy.standardError)
  return finding({
    id: 'waiting',
    topic: 'Repair a failed unit now or wait',
    sentence: policySentence(view, first.option, first.policy),
    paragraphs: [
      ...all.slice(1).map(({ option, policy }) => policySentence(view, option, policy)),
      `One failed unit costs, a year: ${joinList(all.map(({ option, policy }) => `${formatEnergy(policy.oneUnitYear.kwh, null, view.locale)}, worth ${view.money(policy.oneUnitYear.value, null)}, with ${view.name(option)}`))}. Waiting costs that and saves a call-out.`,
    ],
    figures: worthIt.slice(0, 2).map(({ option, policy }) => waitingFigure(view, option, policy)),
    tables: worthIt.map(({ option, policy }) =>
      table(
        `Lifetime cost by waiting rule, residual value counted: ${view.name(option)}, ${view.results.scenario.currency}, present value`,
        [
          'Visit when this many have failed',
          ...policy.waitAtMostDays.map(days => `#after ${formatNumber(days, 1, view.locale)} days at the latest`),
        ],
        policy.waitForUnits.map((units, row) => [
          `${units}`,
          ...policy.waitAtMostDays.map((_, column) =>
            view.money(policy.cost[row]?.[column] ?? 0, policy.standardError).replace(/^\S+\s/u, ''),
          ),
        ]),
        fewerDraws(view, policy.draws),
      ),
    ),
    margin: howKnown(view, ['prices', 'downtime']),
  })
}

function policySentence(view: View, option: OptionResult, policy: Policy): string {
  const { waitForUnits, waitAtMostDays } = policy.best
  const { against } = policy
  const saves = view.money(Math.abs(policy.saves), policy.standardError)
  const present =
    against === null
      ? 'a visit for each'
      : `the rule in your scenario, ${against.waitForUnits} failed ${against.waitForUnits === 1 ? 'unit' : 'units'} or ${formatDays(against.waitAtMostDays, view.locale)}`
  if (policy.saves < -2 * policy.standardError)
    return `With ${view.name(option)}, keep ${present}: the best of the other rules tried costs about ${saves} more over its life.`
  if (waitForUnits <= 1 && against !== null && policy.saves >= 2 * policy.standardError && policy.saves > 0)
    return `With ${view.name(option)}, repair a failed unit at once: that saves about ${saves} over its life against ${present}.`
  if (waitForUnits <= 1)
    return `With ${view.name(option)}, repair a failed unit at once: waiting for more saves nothing.`
  return policy.saves < 2 * policy.standardError
    ? `With ${view.name(option)} it makes no difference worth naming whether a failed unit is repaired at once or waits for a second.`
    : `With ${view.name(option)}, wait until ${waitForUnits} units have failed, but no longer than ${formatNumber(waitAtMostDays, 1, view.locale)} days: that saves about ${saves} over its life against ${present}.`
}

function waitingFigure(view: View, option: OptionResult, policy: Policy): Picture {
  const { currency } = view.results.scenario
  const colour = `c${view.place(option) % 8}`
  const look = (column: number) => ({ colour, dash: DASHES[column % DASHES.length] ?? 'none' })
  const costs = policy.cost.flat()
  return {
    heading: `Lifetime cost by number of units waited for, residual value counted: ${view.name(option)}, ${currency}`,
    key: policy.waitAtMostDays.map((days, column) =>
      lineKey(look(column), `${formatNumber(days, 1, view.locale)} days at the latest`),
    ),
    svg: lineChart(
      {
        id: `waiting-${option.id}`,
        title: `Cost of waiting rules, ${view.name(option)}`,
        description: policySentence(view, option, policy),
      },
      {
        series: policy.waitAtMostDays.map((days, column) => ({
          points: policy.waitForUnits.map((units, row) => ({ x: units, y: policy.cost[row]?.[column] ?? null })),
          look: look(column),
          end: { words: `${formatNumber(days, 1, view.locale)} days` },
        })),
        xName: 'Failed units before a visit',
        yName: `${currency}, present value`,
        writeX: value => (Number.isInteger(value) ? formatNumber(value, 1, view.locale) : ''),
        writeY: value => formatNumber(value, 1, view.locale),
        yMust: [Math.min(...costs), Math.max(...costs)],
        height: 150,
      },
    ),
  }
}
