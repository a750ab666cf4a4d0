import { saidOf } from '../../fitting/failure-block.ts'
import type { FitResult, GroupResult } from '../../fitting/fit-result.ts'
import type { OwnerDecision, OwnerFilesResult } from '../../fitting/register/owner-result.ts'
import type { TerminalAnswer } from '../estimate/terminal-answer.ts'
import { formatNumber } from '../format/number.ts'
import { joinWords, plainName } from '../names.ts'
import { bestModel, type FitWords, shareWords, wordsFor } from './words.ts'

/** Groups given in the answer, one sentence each. */
const MOST_GROUPS = 5

/**
 * The answer: a sentence a group, five at most, and what follows.
 *
 * @param result - the fit
 */
export function answerSentences(result: FitResult): string[] {
  const words = wordsFor(result)
  const more = result.groups.length - MOST_GROUPS
  return [
    ...result.groups.slice(0, MOST_GROUPS).map(group => groupSentence(result, group, words)),
    ...(more > 0 ? [`${more === 1 ? 'One more group is' : `${more} more groups are`} in the report.`] : []),
  ]
}

function groupSentence(result: FitResult, group: GroupResult, words: FitWords): string {
  const name = result.groups.length === 1 ? 'Of these units' : `Of ${plainName(group.name)}`
  const year10 = group.failedBy.find(point => point.years === 10)
  if (bestModel(group) === null || year10 === undefined || group.meanLife === null) {
    return `${name} too few have failed to draw a curve.`
  }
  return `${name}, ${shareWords(year10.estimate)} fail within ten years (${words.shareRange(year10.profile90)} in 9 of 10 cases); a unit lasts ${words.age(group.meanLife.estimate)} on average.`
}

/**
 * Whether the groups differ, in a sentence.
 *
 * @param result - the fit
 * @returns null without a comparison
 */
export function groupsSentence(result: FitResult): string | null {
  if (result.tests.length === 0) return null
  const differ = result.tests.some(test => test.name !== 'likelihood-ratio-shape' && test.pValue < 0.05)
  return differ
    ? 'The groups fail differently; do not mix them.'
    : 'The groups cannot be distinguished with these records.'
}

/**
 * The cautions on the records, one sentence or two each; a caution of several groups is given once.
 *
 * @param result - the fit
 * @param codes - only warnings of these; undefined: all
 */
export function cautionsOf(result: FitResult, codes?: ReadonlySet<string>): string[] {
  const groupsOf = new Map<string, string[]>()
  for (const warning of result.warnings) {
    if (codes !== undefined && !codes.has(warning.code)) continue
    const groups = groupsOf.get(warning.text) ?? []
    if (warning.group !== null) groups.push(plainName(warning.group))
    groupsOf.set(warning.text, groups)
  }
  const many = result.groups.length > 1
  return [...groupsOf].map(([text, groups]) => (groups.length > 0 && many ? `${joinWords(groups)}: ${text}` : text))
}

/** Groups in the table of the terminal; the sentences that follow take the rest of a dozen lines. */
const MOST_ROWS = 3

/**
 * What `fit` says on the terminal: the figures of the report in a row a group, what was decided in reading a register and
 * tickets, then a line a warning.
 *
 * @param result - the fit
 */
export function fitAnswer(result: FitResult): TerminalAnswer {
  const words = wordsFor(result)
  const { groups, ownerFiles: owner } = result
  const hidden = groups.length - MOST_ROWS
  const compared = groupsSentence(result)
  const rows = [
    ['group', 'units', 'failed', 'by ten years', 'in 9 of 10 cases', 'mean life'],
    ...groups.slice(0, MOST_ROWS).map(group => {
      const year10 = group.failedBy.find(point => point.years === 10)
      const figures =
        year10 === undefined || group.meanLife === null
          ? ['no curve', '', '']
          : [shareWords(year10.estimate), words.shareRange(year10.profile90), words.age(group.meanLife.estimate)]
      return [plainName(group.name), String(group.units), String(group.failed), ...figures]
    }),
  ]
  return {
    title: `${saidOf(groups)}${groups.length > 1 ? ` in ${groups.length} groups` : ''}.`,
    rows: rows.map(row => row.map(plainLine)),
    sentences: [
      ...(hidden > 0 ? [`${hidden === 1 ? 'One more group is' : `${hidden} more groups are`} in the report.`] : []),
      ...(compared === null ? [] : [compared]),
      ...(owner === null ? [] : [...decisionLines(owner), watchSentence(owner)]),
    ].map(plainLine),
    warnings: [...(owner === null ? [] : [...textNotes(owner), ...ownerNotes(owner)]), ...cautionsOf(result)].map(
      plainLine,
    ),
  }
}

/** Text without control characters, which could move the cursor. */
function plainLine(text: string): string {
  return text.replace(/\p{Cc}/gu, '')
}

/** What was decided in reading a register and tickets, three lines. */
function decisionLines(owner: OwnerFilesResult): string[] {
  const counted = (about: OwnerDecision['about']): string =>
    owner.decisions
      .filter(decision => decision.about === about)
      .map(({ short, count }) => `${short} ${formatNumber(count, 1)}`)
      .join(', ')
  return [
    `Register: ${counted('register')}.`,
    `Tickets: ${counted('tickets')}.`,
    `In records.csv: ${counted('lives')}.`,
  ]
}

/**
 * What names were taken for, and which columns nothing took.
 *
 * @param owner - what was decided
 */
export function ownerNotes(owner: OwnerFilesResult): string[] {
  const unused = [...owner.unusedColumns.register, ...owner.unusedColumns.tickets].map(plainName)
  return [
    `Names are taken as those of ${owner.namesAre}: ${owner.namesAreSays}.`,
    ...(unused.length === 0
      ? []
      : [
          `Columns not used: ${unused.join(', ')}. If one of them holds the model, the batch, how many units are in a row (count), the day of retirement or closing, or the text, say which, e.g. --column "retired=HEADER".`,
        ]),
  ]
}

/** Texts on the terminal. */
const MOST_TEXTS = 6

/**
 * Which texts made a ticket a failure, so that one that is none is seen; nothing where tickets have no text.
 *
 * @param owner - what was decided
 */
function textNotes({ texts }: OwnerFilesResult): string[] {
  const common = texts.failures.slice(0, MOST_TEXTS).map(({ text, count }) => `${count} × "${plainName(text)}"`)
  if (common.length === 0) return []
  return [
    `Taken as failures, the most common texts: ${common.join(', ')}. If one of them is no failure of a unit, leave it out with --not-when, e.g. --not-when "isolator,fuse".`,
  ]
}

/**
 * When the watch ended, and how dates were read.
 *
 * @param owner - what was decided
 */
export function watchSentence(owner: OwnerFilesResult): string {
  const from = owner.watchStarts === null ? '' : `starts after ${owner.watchStarts} and `
  const orders = owner.dateOrders
    .filter(({ from: by }) => by !== 'any')
    .map(
      ({ file, header, order, from: by }) =>
        `${file} ${plainName(header)} as ${order}${by === 'file' ? ' like the rest of the file' : ''}`,
    )
  return [
    `The watch ${from}ends on ${owner.watchEnds}, ${owner.watchEndsSays}.`,
    ...(orders.length === 0 ? [] : [`Dates: ${orders.join(', ')}.`]),
  ].join(' ')
}
