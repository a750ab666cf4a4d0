import { capital } from '../../../plain-text.ts'
import type { Assumption, Known } from '../../../scenario/model/assumption.ts'
import { keyWords, tail } from '../../../scenario/schema/key-words.ts'
import { type Cell, table } from '../../content.ts'
import { formatAssumption, formatInputRange } from '../../format/input.ts'
import { plainName } from '../../names.ts'
import { placesOf, plainWord } from '../by-option.ts'
import type { View } from '../view.ts'

/** One assumption of one source, with every value it takes and where; values that agree share a line. */
export interface AssumptionEntry {
  /** Words, and what the source says of this figure alone. */
  readonly heading: string
  /** Its key in the scenario, for the screen; paper leaves it out. */
  readonly key: string
  /** How many lines its values take. */
  readonly span: string
  readonly first: readonly Cell[]
  readonly more: readonly (readonly Cell[])[]
}

/** Assumptions that are known equally well, by source. */
export interface AssumptionTable {
  readonly caption: string
  readonly head: readonly Cell[]
  /** `source` is empty where the caption says it. */
  readonly groups: readonly { readonly source: readonly string[]; readonly entries: readonly AssumptionEntry[] }[]
}

const CAPTIONS: Readonly<Record<Known, string>> = {
  yours: 'Yours: as your scenario has it',
  published: 'Published: read in the source named above the figures',
  derived: 'Derived: worked out here from the data named above the figures',
  recalled: 'Recalled: known from a source that was not at hand',
  judgement: 'Judgement: no source gives this figure',
}

/**
 * Every assumption with value, range, unit, source and how well it is known. A source is listed once, and so is a value
 * that several components share.
 *
 * @param view - prepared results
 * @returns one table a grade of knowledge, best known first; none that is empty
 */
export function assumptions(view: View): AssumptionTable[] {
  const grades = Object.keys(CAPTIONS) as Known[] // the keys of a record of Known
  return grades.flatMap(known => {
    const those = view.results.inputs.filter(input => input.known === known)
    if (those.length === 0) return []
    return [
      {
        caption: CAPTIONS[known],
        head: table('', ['Assumption', 'Value; range; where it holds'], []).head,
        groups: [...grouped(those, input => sourceOf(input).name)].map(([source, inputs]) => ({
          source: source === 'your scenario' ? [] : [capital(source), ...weakestPoint(inputs)],
          entries: entries(view, inputs),
        })),
      },
    ]
  })
}

/** The weakest points of what a source gives; none for a choice or a guess, which say it themselves. */
function weakestPoint(inputs: readonly Assumption[]): string[] {
  const points = [...new Set(inputs.flatMap(({ weakest, known }) => (known === 'judgement' ? [] : (weakest ?? []))))]
  return points.length === 0 ? [] : [`Weakest point: ${points.join('; also ')}.`]
}

/** Entries in the order in which their keys first occur in the whole list, so that site, options and units stay together. */
function entries(view: View, inputs: readonly Assumption[]): AssumptionEntry[] {
  const order = [...new Set(view.results.inputs.map(input => tail(input.key)))]
  const byHeading = [...grouped(inputs, input => JSON.stringify([headingOf(input), tail(input.key)]))]
  const place = ([, those]: (typeof byHeading)[number]): number => order.indexOf(tail(those[0]?.key ?? ''))
  return byHeading
    .sort((a, b) => place(a) - place(b))
    .map(([, those]) => {
      const heading = those[0] === undefined ? '' : headingOf(those[0])
      const [first = [], ...more] = lines(view, those)
      return { heading, key: tail(those[0]?.key ?? ''), span: `${more.length + 1}`, first, more }
    })
}

/** One line a value, with all its places. */
function lines(view: View, inputs: readonly Assumption[]): Cell[][] {
  const values = grouped(inputs, ({ value, low, high, unit, source }) =>
    JSON.stringify([value, low, high, unit, sourceOf({ source }).sum]),
  )
  return [...values.values()].flatMap(those => {
    const [input] = those
    if (input === undefined) return []
    const aside = meaning(input) ?? sourceOf(input).sum
    const range = input.low === null ? '' : formatInputRange(input.low, input.high, input.unit, view.locale)
    const value = `${formatAssumption(input, view.locale)}${aside === '' ? '' : ` (${aside})`}`
    return [
      [
        { kind: 'text' as const, text: range === '' ? value : `${value}; ${range}` },
        { kind: 'text' as const, text: placesOf(view, those) },
      ],
    ]
  })
}

/** What a word of the scenario means; null where the word is plain. */
function meaning(input: Assumption): string | null {
  const words = plainWord(input)
  return words?.includes(`${input.value}`.replace(/-/g, ' ')) ? null : words
}

function headingOf(input: Assumption): string {
  const { remark } = sourceOf(input)
  return `${keyWords(input.key)}${remark === '' ? '' : `: ${remark}`}`
}

/** The parts of a source: its name, what it says of this figure alone, and the multiplication that converted a price. */
function sourceOf({ source }: Pick<Assumption, 'source'>): { name: string; remark: string; sum: string } {
  const [, said = source, sum = ''] = /^(.*?); ([^;]*×.*)$/.exec(source) ?? []
  const [, name = said, remark = ''] = /^(choice of this program): (.*)$/.exec(said) ?? []
  return { name: plainName(name), remark, sum }
}

function grouped<T>(items: readonly T[], keyOf: (item: T) => string): Map<string, T[]> {
  const groups = new Map<string, T[]>()
  for (const item of items) {
    const key = keyOf(item)
    groups.set(key, [...(groups.get(key) ?? []), item])
  }
  return groups
}
