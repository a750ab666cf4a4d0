import type { Results } from '../../analysis/results.ts'
import { plainName } from '../names.ts'
import { countedWords } from './cost-words.ts'
import { quoteNotes } from './frame/notes.ts'
import { asideSentence } from './put-aside.ts'
import { staysCheaperSentence, verdictSentence } from './verdicts.ts'
import { bestPair, type View, viewOf } from './view.ts'

/** What a command says at its end: rows of a table, sentences, warnings. */
export interface TerminalAnswer {
  readonly title: string
  /** Cells of one row an option, the heading first. */
  readonly rows: readonly (readonly string[])[]
  readonly sentences: readonly string[]
  /** One a line: what the reader has to know of the data. */
  readonly warnings: readonly string[]
}

/** Options listed on the terminal; with the sentences they make a dozen lines. Ours. */
const MOST_OPTIONS = 6
/** Most characters of a name in the table; ours: with the figures they fill a line of 80. */
const LONGEST_NAME = 34
/** Warnings listed; the report has all. Ours. */
const MOST_WARNINGS = 5

/**
 * The answer of `estimate` for the terminal: what each option costs, who is ahead and how surely, what to have ready,
 * what to know of the data. The same figures as the report.
 *
 * @param results - at least one option
 * @param locale - BCP 47 tag of digits and separators
 * @returns plain text, not wrapped
 */
export function terminalAnswer(results: Results, locale: string): TerminalAnswer {
  const view = viewOf(results, locale)
  // the table has the names
  const inLetters: View = { ...view, name: one => (typeof one === 'string' ? one : one.id) }
  return {
    title: `${results.scenario.title}: ${view.horizon}, ${results.scenario.currency}`,
    rows: rows(view),
    // one paragraph keeps the answer to a dozen lines
    sentences: [[ahead(inLetters), asideSentence(inLetters, view.best)].filter(sentence => sentence !== '').join(' ')],
    warnings: [
      `Over its life: ${countedWords(view)}.`,
      ...view.leftOut.map(({ id }) => `${id} is listed without what its battery earns.`),
      ...warnings(view),
    ],
  }
}

function rows(view: View): string[][] {
  const shown = view.ranked.slice(0, MOST_OPTIONS)
  const left = view.ranked.length - shown.length
  return [
    ['Cheapest first', 'price', 'over its life', '9 in 10 under'],
    ...shown.map(option => [
      `${cut(plainName(option.name))} (${option.id})`,
      bare(view.money(option.costs.upfront, 0)),
      bare(view.money(option.lifetimeCost.mean, option.lifetimeCost.standardError)),
      bare(view.money(option.lifetimeCost.p90, option.lifetimeCost.standardErrors.p90)),
    ]),
    ...(left > 0 ? [[`and ${left} more in the report`, '', '', '']] : []),
  ]
}

/** The title has the currency. */
function bare(money: string): string {
  return money.replace(/^\S+\s/u, '')
}

/** A name cut to fit a line of 80 with its figures: names differ most at their start or end, so the middle is left out. */
function cut(name: string): string {
  const letters = [...name]
  if (letters.length <= LONGEST_NAME) return name
  const kept = (LONGEST_NAME - 2) / 2
  return `${letters.slice(0, kept).join('')} \u2026${letters.slice(-kept).join('')}`
}

function ahead(view: View): string {
  const pair = bestPair(view)
  return pair === null ? '' : `${verdictSentence(view, pair)} ${staysCheaperSentence(view, pair)}`
}

/** Codes of notes that are usual for a plain quote; the terminal leaves them out. */
const USUAL = new Set([
  'shade-not-given',
  'energy-as-given',
  'tiers-are-judgement',
  'export-limit-not-played',
  'monitoring-differs',
  'losses-differ',
])

function warnings(view: View): string[] {
  const { results } = view
  const all = quoteNotes({
    ...view,
    results: { ...results, notes: results.notes.filter(({ code }) => !USUAL.has(code)) },
  })
  const left = all.length - MOST_WARNINGS
  return left > 0 ? [...all.slice(0, MOST_WARNINGS), `${left} more notes are in the report.`] : all
}
