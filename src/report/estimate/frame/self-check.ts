import type { CheckedCount, PopulationResult } from '../../../analysis/results/option.ts'
import { kindWords } from '../../../topologies/kinds.ts'
import { type Table, table } from '../../content.ts'
import { formatNumber } from '../../format/number.ts'
import type { View } from '../view.ts'

/** What the self-check says, and its table. */
export interface SelfCheck {
  readonly sentence: string
  readonly table: Table
}

/**
 * Simulated and exact numbers of failures (X1).
 *
 * @param view - prepared results
 * @returns a sentence and a table
 */
export function selfCheck(view: View): SelfCheck {
  const rows = view.results.options.flatMap(option =>
    option.populations.flatMap(population => [
      {
        option,
        population,
        counted: COUNTED[population.checked],
        count: population.checked === 'first failures' ? population.firstFailures : population.failures,
      },
      ...(population.laterLives === null
        ? []
        : [{ option, population, counted: 'all failures, each by itself', count: population.laterLives }]),
    ]),
  )
  const components = view.results.options.flatMap(({ populations }) => populations)
  const scores = rows.flatMap(row => (row.count.zScore === null ? [] : [Math.abs(row.count.zScore)]))
  const largest = scores.length === 0 ? null : Math.max(...scores)
  return {
    sentence: checkSentence(view, scores.length, largest),
    table: table(
      'Failures counted by simulation and by exact calculation',
      ['Component', 'Option', 'What was counted', '#Simulated', '#Exact', '#Standard errors apart (z)'],
      rows.map(({ option, population, counted, count }) => [
        kindWords(population.kind, population.count),
        option.id,
        counted,
        formatNumber(count.comparedMean ?? count.mean, 0.0001, view.locale),
        exact(count, view.locale),
        count.zScore === null ? 'none' : formatNumber(count.zScore, 0.01, view.locale),
      ]),
      [
        ...(view.results.parameterSets > 1
          ? [
              'The exact number is computed for 40 of the sets of assumptions at most. The simulated number next to it is the mean of the lifetimes of those sets.',
            ]
          : []),
        ...laterLives(view, components),
      ],
    ),
  }
}

const COUNTED = {
  failures: 'all failures',
  'first failures': 'units failing at least once',
  none: 'not checked',
} as const

/** What has no exact number under the rules played, and what is checked in its place (X1). */
function laterLives(view: View, components: readonly PopulationResult[]): string[] {
  const unseen = components.filter(({ checked }) => checked !== 'failures')
  if (unseen.length === 0) return []
  const draws = unseen.find(({ laterLives: later }) => later !== null)?.laterLives?.draws
  return [
    'With a gateway, a visit policy or repairs, only the first failure of each unit has an exact number: later lives start when a visit replaces the unit.',
    ...(draws === undefined
      ? ['The later lives of these units are not checked.']
      : [
          `“All failures, each by itself” checks the later lives of the same units, each failure found, visited and replaced by itself, in the first ${formatNumber(draws, 1, view.locale)} of the ${formatNumber(view.results.draws, 1, view.locale)} lifetimes of each option. It does not check the effect of gateway, visit policy or repairs on later lives.`,
        ]),
  ]
}

function exact(count: CheckedCount, locale: string): string {
  return count.exactMean === null ? 'not available' : formatNumber(count.exactMean, 0.0001, locale)
}

/** Standard errors past which chance is no explanation; ours. */
const ALARM = 4
/** Sets of assumptions from which a standard error can be taken; ours: 1,000 draws. */
const FEWEST_SETS = 50

function checkSentence(view: View, checked: number, largest: number | null): string {
  if (largest === null) return 'No component could be checked against an exact calculation in this scenario.'
  const far = formatNumber(largest, 0.1, view.locale)
  const { draws, parameterSets } = view.results
  if (largest >= ALARM && parameterSets > 1 && parameterSets < FEWEST_SETS)
    return `The ${formatNumber(draws, 1, view.locale)} lifetimes of an option are too few for this check: errors taken from ${formatNumber(parameterSets, 1, view.locale)} sets of assumptions cannot distinguish chance from a fault. Play 1,000 or more.`
  return largest < ALARM
    ? `The simulated number of failures agrees with the exact one in all ${checked} comparisons that can be made: the largest gap is ${far} standard errors. Chance alone makes a gap of 2 common and one of 3 rare.`
    : `For at least one component the simulated number of failures lies ${far} standard errors from the exact one. That is more than chance explains: do not use this report, and tell the makers of this program.`
}
