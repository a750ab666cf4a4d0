import type { OptionResult } from '../../analysis/results/option.ts'
import type { Swing, SwitchPoint } from '../../analysis/results/what-if.ts'
import { COVERED } from '../../analysis/switch-inputs.ts'
import { intervalChart } from '../charts/intervals.ts'
import { markKey } from '../charts/look.ts'
import { rule } from '../charts/svg.ts'
import { type Finding, finding, type Table, table } from '../content.ts'
import { formatInput, formatInputRange } from '../format/input.ts'
import { formatNumber } from '../format/number.ts'
import { formatShare } from '../format/share.ts'
import { turnedBySentence } from '../how-sure.ts'
import { howKnown } from '../margin.ts'
import { joinList, joinWords, plainInput, plainName } from '../names.ts'
import { bestPair, fewerDraws, type View } from '../view.ts'

// Ours: more bars than these are noise; the table has all.
const MOST_SWINGS = 10

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
      ...(drivers.length === 0
        ? []
        : [
            `Of what is not known, these move the answer most, by share, each with its standard error: ${joinList(drivers.slice(0, 5).map(driver => `${plainInput(driver.input)}, ${formatShare(driver.share, view.locale)} ± ${formatShare(driver.standardError, view.locale)}`))}.${fromSets(view)}`,
          ]),
    ],
    figures: visible.length === 0 ? [] : [swingFigure(view, visible.slice(0, MOST_SWINGS))],
    tables: [
      ...(switchPoints.length === 0 ? [] : [switchTable(view, switchPoints)]),
      ...(visible.length === 0 ? [] : [swingTable(view, visible, ordered.length - visible.length)]),
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

/**
 * One switch point as a sentence (S2). A life is said as the age by which half of the units have failed.
 *
 * @param view - prepared results
 * @param point - the switch point
 * @param say - how options are named
 * @returns a sentence
 */
export function switchSentence(
  view: View,
  point: SwitchPoint,
  say: (option: OptionResult) => string = option => view.name(option),
): string {
  const what = inputName(view, point.input, point.option)
  if (point.value === null) return `${capital(what)}: none within the range tried, ${rangeTried(view, point)}.`
  const { best, second } = view
  const turned = second === null ? 'the order changes' : `${say(second)} is cheaper than ${say(best)}`
  const rises = point.value > point.present
  const owner = /\((.*)\)/.exec(what)?.[1] ?? what
  if (point.unit === COVERED)
    return `If the warranty of ${owner} ${rises ? 'also paid call-outs' : 'did not pay call-outs'}, the order would change: ${turned}.`
  if (point.halfFailBy !== null) {
    const { present, value } = point.halfFailBy
    if (present === null || value === null)
      return `The units of ${owner} would have to last ${formatNumber(point.value / point.present, 0.1, view.locale)} times as long as assumed before ${turned}.`
    return rises
      ? `Half of the units of ${owner} would have to last beyond year ${said(view, value)}, not year ${said(view, present)} as assumed, before ${turned}.`
      : `Half of the units of ${owner} would have to fail by year ${said(view, value)}, not by year ${said(view, present)} as assumed, before ${turned}.`
  }
  const value = formatInput(point.value, point.unit, view.locale, 3)
  const present = formatInput(point.present, point.unit, view.locale, 3)
  return `${capital(what)} would have to ${rises ? 'rise' : 'fall'} from ${present} to ${rises ? 'over' : 'below'} ${value} before ${turned}.`
}

/** A year to three digits. */
function said(view: View, year: number): string {
  return formatInput(year, '', view.locale, 3)
}

/** The figures that a switch point shows: those of the input itself, or of a life the age by which half have failed. */
function shown(view: View, point: SwitchPoint, which: 'present' | 'value' | 'low' | 'high'): string {
  const figure = point.halfFailBy === null ? point[which] : point.halfFailBy[which]
  if (point.unit === COVERED) return figure === 1 ? 'paid' : 'not paid'
  if (figure === null) return 'never'
  return formatInput(figure, point.unit, view.locale, 3)
}

function rangeTried(view: View, point: SwitchPoint): string {
  if (point.unit === COVERED) return 'paid or not'
  if (point.halfFailBy === null) return formatInputRange(point.low, point.high, point.unit, view.locale)
  const { low, high } = point.halfFailBy
  return low === null || high === null
    ? `${shown(view, point, 'low')} to ${shown(view, point, 'high')}`
    : formatInputRange(low, high, point.unit, view.locale)
}

/**
 * What was tried for a switch point, each alone, in words (S2).
 *
 * @param view - prepared results
 * @returns e.g. `labour for a repair, how long units last and discount rate`
 */
export function triedWords(view: View): string {
  return joinWords([
    ...new Set(view.results.switchPoints.map(point => whatIsTried(point.input).replace(/\s*\(.*\)$/, ''))),
  ])
}

/** A life as a reader calls it. */
function whatIsTried(input: string): string {
  return plainInput(input).replace(/^characteristic life/, 'how long units last')
}

/** What no switch point was sought for (S2). */
export const NOT_TRIED = 'No switch point was sought for shade and mismatch, conversion, or how much is used at home.'

/** The switch point that asks for the smallest part of its range. */
function nearest(points: readonly SwitchPoint[]): SwitchPoint | undefined {
  const distance = (point: SwitchPoint): number =>
    Math.abs((point.value ?? point.high) - point.present) / Math.max(point.high - point.low, 1e-12)
  return [...points].sort((a, b) => distance(a) - distance(b))[0]
}

function swingSentence(view: View, swing: Swing | undefined): string {
  if (swing === undefined) return 'Nothing that is not known was found to move the answer.'
  return `Of what is not known, ${inputName(view, swing.input, swing.option)} moves the answer most.`
}

function inputName(view: View, input: string, option: string | null): string {
  const name = plainInput(input)
  if (option === null) return name
  const owner = view.results.options.find(candidate => candidate.id === option)
  return owner === undefined || name.includes(plainName(owner.name)) ? name : `${name}, ${view.name(owner)}`
}

function capital(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1)
}

function pairName(view: View): string | null {
  return view.second === null ? null : `${view.name(view.best)} and ${view.name(view.second)}`
}

/** With two options their difference as it is compared (K2) counts, with one its own cost less its mean. */
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
            swing => `${inputName(view, swing.input, swing.option)}: ${view.moneyRange(...effect(view, swing), null)}`,
          )
          .join('; '),
      },
      {
        intervals: swings.map(swing => {
          const [a, b] = effect(view, swing)
          return {
            words: inputName(view, swing.input, swing.option),
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

function switchTable(view: View, points: readonly SwitchPoint[]) {
  return table(
    'Where the best two change places',
    ['Figure', 'Now', 'Changes places at', 'Range tried', '#Difference left there'],
    points.map(point => [
      point.halfFailBy === null
        ? inputName(view, point.input, point.option)
        : whatIsTried(inputName(view, point.input, point.option)).replace(
            /^how long units last/,
            'half of units fail by',
          ),
      shown(view, point, 'present'),
      point.value === null ? 'none within the range tried' : shown(view, point, 'value'),
      rangeTried(view, point),
      point.differenceThere === null ? '' : view.money(point.differenceThere, point.standardError),
    ]),
    [
      'Each switch point was played once more at the value shown, as the one figure, its range gone and the spread between models as it is; the last column is what remained of the difference.',
      NOT_TRIED,
      ...fewerDraws(view, points.find(point => point.draws !== null)?.draws ?? view.results.draws),
    ],
  )
}

/** Swings have no error of their own: that of the difference they move stands in. */
function swingError(view: View): number {
  return bestPair(view)?.standardError ?? view.best.lifetimeCost.standardError
}

/** Only what moves the answer by a step that can be shown; the rest is counted. */
function swingTable(view: View, swings: readonly Swing[], left: number): Table {
  const error = swingError(view)
  const pair = bestPair(view)
  return table(
    'What each unknown does to the answer',
    ['Figure', 'Low', 'High', '#Answer at low', '#Answer at high'],
    swings.map(swing => {
      const [low, high] = effect(view, swing)
      return [
        inputName(view, swing.input, swing.option),
        formatInput(swing.low, swing.unit, view.locale, 3),
        formatInput(swing.high, swing.unit, view.locale, 3),
        view.money(low, error),
        view.money(high, error),
      ]
    }),
    [
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
