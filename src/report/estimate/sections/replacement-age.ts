import type { OptionResult } from '../../../analysis/results/option.ts'
import { isCentralInverter } from '../../../topologies/kinds.ts'
import { lineChart } from '../../charts/lines.ts'
import { optionKey, optionLook } from '../../charts/look.ts'
import { type Finding, finding, table } from '../../content.ts'
import { formatNumber } from '../../format/number.ts'
import { formatYears } from '../../format/quantity.ts'
import { componentWords, joinList } from '../../names.ts'
import { howKnown } from '../margin.ts'
import { fewerDraws, type View } from '../view.ts'
import { panelled } from './charted.ts'

type Policy = NonNullable<OptionResult['replacementAge']>

/**
 * Whether to replace at a planned age or run to failure (M6).
 *
 * @param view - prepared results
 * @returns the finding; null where no option has an age to try, see `untriedAges`
 */
export function replacementAgeFinding(view: View): Finding | null {
  const having = (options: readonly OptionResult[]) =>
    options.flatMap(option => (option.replacementAge === null ? [] : [{ option, policy: option.replacementAge }]))
  const all = having(view.ranked)
  const first = all[0]
  if (first === undefined) return null
  const drawn = having(panelled(view))
  const { currency } = view.results.scenario
  return finding({
    id: 'replacement-age',
    topic: 'Replace on schedule or run to failure',
    sentence: policySentence(view, first.option, first.policy),
    paragraphs: [
      ...all.slice(1).map(({ option, policy }) => policySentence(view, option, policy)),
      ...untriedAges(view),
    ],
    figures: drawn
      .filter(({ policy }) => isWorthPlanning(policy))
      .map(({ option, policy }) => ({
        heading: `Lifetime cost by age of planned replacement, residual value counted: ${view.name(option)}, ${currency}`,
        key: optionKey([{ letter: option.id, name: view.name(option), place: view.place(option) }]),
        svg: lineChart(
          {
            id: `age-${option.id}`,
            title: `Cost against replacement age, ${view.name(option)}`,
            description: policySentence(view, option, policy),
          },
          {
            series: [
              {
                points: policy.ages.map((age, index) => ({ x: age, y: policy.cost[index] ?? null })),
                look: optionLook(view.place(option)),
                end: { letter: option.id, place: view.place(option) },
              },
            ],
            level: { y: policy.runToFailureCost, words: 'run to failure' },
            marks:
              policy.best === null
                ? []
                : [{ x: policy.best, y: costAt(policy, policy.best), words: `cheapest: ${formatYears(policy.best)}` }],
            xName: `Age at which the ${componentWords(policy.component)} is replaced, years`,
            yName: `${currency}, present value`,
            writeX: value => formatNumber(value, 1, view.locale),
            writeY: value => formatNumber(value, 1, view.locale),
            yMust: [policy.runToFailureCost, policy.runToFailureCost],
            height: 150,
          },
        ),
      })),
    tables: [
      table(
        'Planned replacement against running to failure, residual value counted',
        ['Option', 'Component', '#Run to failure', '#Best age', '#At the best age', '#Gain'],
        all.map(({ option, policy }) => [
          view.name(option),
          componentWords(policy.component),
          view.money(policy.runToFailureCost, policy.standardError),
          policy.best === null ? 'run to failure' : `${policy.best}`,
          policy.best === null ? '' : view.money(costAt(policy, policy.best), policy.standardError),
          policy.best === null ? '' : view.money(policy.gain, policy.standardError),
        ]),
        fewerDraws(view, first.policy.draws),
      ),
    ],
    margin: howKnown(view, ['failures', 'prices']),
  })
}

/**
 * Of which options no planned age could be tried, as a sentence (M6).
 *
 * @param view - prepared results
 * @returns at most one sentence
 */
export function untriedAges(view: View): string[] {
  const untried = view.ranked.filter(
    ({ replacementAge, populations }) =>
      replacementAge === null && populations.some(({ kind }) => isCentralInverter(kind)),
  )
  return untried.length === 0
    ? []
    : [
        `Whether to replace on schedule or run to failure is left open for ${joinList(untried.map(option => view.name(option)))}: in ${view.horizon} no inverter reaches an age worth a plan.`,
      ]
}

/** Whether a planned age saves more than the error; else no picture is drawn. */
function isWorthPlanning(policy: Policy): boolean {
  return policy.best !== null && policy.gain >= 2 * policy.standardError
}

function policySentence(view: View, option: OptionResult, policy: Policy): string {
  const what = `the ${componentWords(policy.component)} of ${view.name(option)}`
  if (policy.best === null) return `Run ${what} to failure: no planned age of replacement is cheaper.`
  const gain = view.money(policy.gain, policy.standardError)
  return policy.gain < 2 * policy.standardError
    ? `Replacing ${what} at ${formatYears(policy.best)} looks cheapest, but its gain over running to failure, ${gain}, is within the error of the simulation.`
    : `Replacing ${what} at ${formatYears(policy.best)}, before it fails, saves about ${gain} against running to failure.`
}

function costAt(policy: Policy, age: number): number {
  return policy.cost[policy.ages.indexOf(age)] ?? policy.runToFailureCost
}
