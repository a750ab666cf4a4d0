/** Where the two options that cost least change places, in words and as a table (S2). */

import type { OptionResult } from '../../../analysis/results/option.ts'
import type { SwitchPoint } from '../../../analysis/results/what-if.ts'
import { COVERED } from '../../../analysis/sensitivity/switch-inputs.ts'
import { figureOf } from '../../../evidence/index.ts'
import { capital } from '../../../plain-text.ts'
import { type Table, table } from '../../content.ts'
import { formatInput, formatInputRange } from '../../format/input.ts'
import { formatNumber } from '../../format/number.ts'
import { joinList, joinWords, plainInput, plainName } from '../../names.ts'
import { fewerDraws, type View } from '../view.ts'

/**
 * One switch point as a sentence (S2). A life is given as the age by which half of the units have failed.
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

/** An input in words, a characteristic life as how long units last. */
function whatIsTried(input: string): string {
  return plainInput(input).replace(/^characteristic life/, 'how long units last')
}

/** What no switch point was sought for (S2). */
const NOT_TRIED = 'No switch point was sought for shade and mismatch, conversion, or how much is used at home.'

/**
 * The switch points found; remarks name the figures that have none.
 *
 * @param view - prepared results
 * @param points - all that were sought
 * @returns one table; none without a switch point
 */
export function switchTables(view: View, points: readonly SwitchPoint[]): Table[] {
  const found = points.filter(point => point.value !== null)
  if (found.length === 0) return []
  const none = points.filter(point => point.value === null)
  return [
    table(
      'Where the best two change places',
      ['Figure', 'Now', 'Changes places at', 'Range tried', '#Difference left there'],
      found.map(point => [
        whatIsSwitched(view, point),
        shown(view, point, 'present'),
        shown(view, point, 'value'),
        rangeTried(view, point),
        point.differenceThere === null ? '' : view.money(point.differenceThere, point.standardError),
      ]),
      [
        'Each switch point was played once more with the value shown in place of the range and the spread between models unchanged; the last column is the difference that remained.',
        ...(none.length === 0 ? [] : [`No change of places: ${noneFound(view, none)}.`]),
        NOT_TRIED,
        ...atNoSpread(view, found),
        ...fewerDraws(view, found[0]?.draws ?? view.results.draws),
      ],
    ),
  ]
}

/**
 * Without any switch point: what was tried.
 *
 * @param view - prepared results
 * @param points - all that were sought
 * @returns one line for under a table; none with a switch point, or where none was sought
 */
export function nothingFound(view: View, points: readonly SwitchPoint[]): string[] {
  return points.length === 0 || points.some(({ value }) => value !== null)
    ? []
    : [`Tried, each alone: ${noneFound(view, points)}. ${NOT_TRIED}`]
}

/** M4: a life that was a range has no spread between models; a life typed as one figure gets the usual one. */
function atNoSpread(view: View, found: readonly SwitchPoint[]): string[] {
  const ids = found.flatMap(({ option, halfFailBy }) => (halfFailBy === null || option === null ? [] : [option]))
  const without = [...new Set(ids)].filter(id => {
    const start = `${view.option(id).name} / `
    const spread = view.results.inputs.find(({ key }) => key.startsWith(start) && key.endsWith('failure.model_spread'))
    return spread?.value === 0
  })
  return without.length === 0
    ? []
    : [
        `The switch points of lives of ${joinWords(without)} hold for model_spread: 0. Write that next to the life if you type it as one figure; without it a figure gets the usual spread, ${formatNumber(figureOf(null, 'failure.model_spread').value, 0.1, view.locale)} or more.`,
      ]
}

function noneFound(view: View, points: readonly SwitchPoint[]): string {
  return joinList(points.map(point => `${whatIsSwitched(view, point)}, ${rangeTried(view, point)}`))
}

function whatIsSwitched(view: View, point: SwitchPoint): string {
  const name = shortInputName(view, point.input, point.option)
  return point.halfFailBy === null ? name : whatIsTried(name).replace(/^how long units last/, 'half of units fail by')
}

/**
 * An input with the option it belongs to.
 *
 * @param view - prepared results
 * @param input - its label
 * @param option - id; null: of all
 */
export function inputName(view: View, input: string, option: string | null): string {
  const name = plainInput(input)
  if (option === null) return name
  const owner = view.results.options.find(candidate => candidate.id === option)
  return owner === undefined || name.includes(plainName(owner.name)) ? name : `${name}, ${view.name(owner)}`
}

/**
 * The same with the letter of the option in place of its name, for pictures and tables.
 *
 * @param view - prepared results
 * @param input - its label
 * @param option - id; null: of all
 * @returns e.g. `whether the string inverter of option B is a good product or a bad one`
 */
export function shortInputName(view: View, input: string, option: string | null): string {
  const name = plainInput(input)
  const owner = view.results.options.find(candidate => candidate.id === option)
  if (owner === undefined) return name
  const typed = plainName(owner.name)
  const at = name.lastIndexOf(typed)
  return at < 0
    ? `${name}, option ${owner.id}`
    : `${name.slice(0, at)}option ${owner.id}${name.slice(at + typed.length)}`
}
