import type { Swing, SwitchPoint } from '../../../analysis/results/what-if.ts'
import { intervalChart } from '../../charts/intervals.ts'
import { markKey } from '../../charts/look.ts'
import { rule } from '../../charts/svg.ts'
import { type Finding, finding, type Table, table } from '../../content.ts'
import { formatInput } from '../../format/input.ts'
import { formatNumber } from '../../format/number.ts'
import { formatShare } from '../../format/share.ts'
import { joinList, plainInput } from '../../names.ts'
import { turnedBySentence } from '../how-sure.ts'
import { howKnown } from '../margin.ts'
import { bestPair, fewerDraws, type View } from '../view.ts'
import { inputName, nothingFound, shortInputName, switchSentence, switchTables } from './switch-points.ts'

// Ours: more bars than these are noise; the table has all.
const MOST_SWINGS = 6

/**
 * What would change the answer: swings, switch points, drivers (S1–S3).
 *
 * @param view - prepared results
 * @returns the finding; null where nothing is ± and no switch point was sought
 */
export function whatWouldChange(view: View): Finding | null {
  const { switchPoints, swings, drivers } = view.results
  if (switchPoints.length === 0 && swings.length === 0) return null
  const ordered = [...swings].sort((a, b) => width(view, b) - width(view, a))
  const visible = ordered.filter(swing => width(view, swing) >= 2 * swingError(view))
  const switching = switchPoints.filter(point => point.value !== null)
  const first = nearest(switching)
  const pair = pairName(view)
  const best = bestPair(view)
  return finding({
    id: 'what-would-change',
    topic: 'What would change the answer',
    sentence:
      first !== undefined
        ? switchSentence(view, first)
        : switchPoints.length > 0
          ? `No single figure, within the range tried, would put ${pair ?? 'another option'} in a different order.`
          : swingSentence(view, ordered[0]),
    paragraphs: [
      ...(best === null ? [] : turnedBySentence(view, best)),
      ...(visible.length === 0 ? nothingFound(view, switchPoints) : []),
      ...(drivers.length === 0
        ? []
        : [
            `Of what is not known, these move the answer most, by share, each with its standard error: ${joinList(drivers.slice(0, 5).map(driver => `${plainInput(driver.input)}, ${formatShare(driver.share, view.locale)} ± ${formatShare(driver.standardError, view.locale)}`))}.${fromSets(view)}`,
          ]),
    ],
    figures: visible.length === 0 ? [] : [swingFigure(view, visible.slice(0, MOST_SWINGS))],
    tables: [
      ...switchTables(view, switchPoints),
      ...(visible.length === 0
        ? []
        : [swingTable(view, visible, ordered.length - visible.length, nothingFound(view, switchPoints))]),
    ],
    margin: [
      {
        known: 'Judgement',
        text: 'Ranges for what is not known. Each is in the list of assumptions with its source.',
      },
      ...howKnown(view, ['prices']),
    ],
  })
}

/** That the shares come from fewer sets than the run has (X2). */
function fromSets(view: View): string {
  const { driverSets, parameterSets } = view.results
  if (driverSets >= parameterSets) return ''
  const said = (count: number): string => formatNumber(count, 1, view.locale)
  return ` From the first ${said(driverSets)} of the ${said(parameterSets)} sets of assumptions.`
}

function nearest(points: readonly SwitchPoint[]): SwitchPoint | undefined {
  const distance = (point: SwitchPoint): number =>
    Math.abs((point.value ?? point.high) - point.present) / Math.max(point.high - point.low, 1e-12)
  return [...points].sort((a, b) => distance(a) - distance(b))[0]
}

function swingSentence(view: View, swing: Swing | undefined): string {
  if (swing === undefined) return 'No unknown figure was found to move the answer.'
  return `Of what is not known, ${inputName(view, swing.input, swing.option)} moves the answer most.`
}

function pairName(view: View): string | null {
  return view.second === null ? null : `${view.name(view.best)} and ${view.name(view.second)}`
}

/** With two options the difference of the pair (K2), with one its cost less its mean. */
function effect(view: View, swing: Swing): readonly [number, number] {
  if (view.second !== null) return [swing.differenceAtLow, swing.differenceAtHigh]
  const middle = view.best.lifetimeCost.mean
  return [swing.costAtLow - middle, swing.costAtHigh - middle]
}

function width(view: View, swing: Swing): number {
  const [low, high] = effect(view, swing)
  return Math.abs(high - low)
}

function swingFigure(view: View, swings: readonly Swing[]) {
  const { currency } = view.results.scenario
  const pair = bestPair(view)
  const against = pair === null ? 'lifetime cost' : `lifetime cost of ${pair.option} less that of ${pair.against}`
  return {
    heading: `How far each unknown moves the answer, ${currency}`,
    key: [markKey(rule(2, 10, 30, 10, 'span'), 'from the low to the high end of its range, all else in the middle')],
    svg: intervalChart(
      {
        id: 'swings',
        title: 'Swing of the answer for each unknown, widest first',
        description: swings
          .slice(0, 5)
          .map(
            swing =>
              `${shortInputName(view, swing.input, swing.option)}: ${view.moneyRange(...effect(view, swing), null)}`,
          )
          .join('; '),
      },
      {
        intervals: swings.map(swing => {
          const [a, b] = effect(view, swing)
          return {
            words: shortInputName(view, swing.input, swing.option),
            low: Math.min(a, b),
            high: Math.max(a, b),
            dot: null,
            ring: null,
          }
        }),
        axisName: `${currency}: ${against}`,
        write: value => formatNumber(value, 1, view.locale),
        below: pair === null ? 'cheaper' : `${pair.option} cheaper`,
        above: pair === null ? 'dearer' : `${pair.against} cheaper`,
      },
    ),
  }
}

/** Swings have no error of their own: that of the difference they move is used. */
function swingError(view: View): number {
  return bestPair(view)?.standardError ?? view.best.lifetimeCost.standardError
}

/** The unknowns that move the answer by more than the error; a remark counts the rest. */
function swingTable(view: View, swings: readonly Swing[], left: number, tried: readonly string[]): Table {
  const error = swingError(view)
  const pair = bestPair(view)
  return table(
    'What each unknown does to the answer',
    ['Figure', 'Low', 'High', '#Answer at low', '#Answer at high'],
    swings.map(swing => {
      const [low, high] = effect(view, swing)
      return [
        shortInputName(view, swing.input, swing.option),
        formatInput(swing.low, swing.unit, view.locale, 3),
        formatInput(swing.high, swing.unit, view.locale, 3),
        view.money(low, error),
        view.money(high, error),
      ]
    }),
    [
      ...tried,
      pair === null
        ? 'The answer is the lifetime cost less its mean.'
        : `The answer is the lifetime cost of ${pair.option} less that of ${pair.against}: above zero ${pair.against} is the cheaper.`,
      ...fewerDraws(view, swings[0]?.draws ?? view.results.draws),
      ...(left > 0
        ? [`${left} more unknowns move it by less than this simulation can tell from chance; they are in results.json.`]
        : []),
    ],
  )
}
