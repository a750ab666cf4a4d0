import type { Assumption } from '../../scenario/model.ts'
import { ownerOf } from '../by-option.ts'
import { type Table, table } from '../content.ts'
import { formatInput, formatInputRange } from '../format.ts'
import { KNOWN_WORDS, keyWords, tail } from '../margin.ts'
import { kindWords, plainName } from '../names.ts'
import type { View } from '../view.ts'

/**
 * Every assumption with value, range, unit, source and how well it is known. Options that share one share its row.
 *
 * @param view - prepared results
 * @returns one table for what holds for all, one for the options; none that is empty
 */
export function assumptions(view: View): Table[] {
  const ofAll = view.results.inputs.filter(input => ownerOf(view, input) === null)
  const ofOptions = view.results.inputs.filter(input => ownerOf(view, input) !== null)
  return [
    listing(view, 'The site, prices and money', ofAll),
    listing(view, 'The options and their components', ofOptions),
  ].filter(made => made.rows.length > 0)
}

interface Row {
  readonly input: Assumption
  readonly where: string[]
}

function listing(view: View, caption: string, inputs: readonly Assumption[]): Table {
  const rows = new Map<string, Row>()
  for (const input of inputs) {
    const { value, low, high, unit, source, known } = input
    const same = JSON.stringify([tail(input.key), value, low, high, unit, source, known])
    const row = rows.get(same) ?? { input, where: [] }
    row.where.push(whereOf(view, input))
    rows.set(same, row)
  }
  // Rows of one key stand together, in the order in which the keys first come.
  const order = [...new Set(inputs.map(input => tail(input.key)))]
  const sorted = [...rows.values()].sort((a, b) => order.indexOf(tail(a.input.key)) - order.indexOf(tail(b.input.key)))
  return table(
    caption,
    ['Assumption', 'For', '#Value', '#Range (1 of 10 below, 1 of 10 above)', 'Source', 'How known'],
    sorted.map(({ input, where }) => [
      `${keyWords(input.key)} [${tail(input.key)}]`,
      [...new Set(where)].join(', '),
      formatInput(input.value, input.unit, view.locale),
      formatInputRange(input.low, input.high, input.unit, view.locale),
      plainName(input.source),
      KNOWN_WORDS[input.known].toLowerCase(),
    ]),
  )
}

/** Letter of the option, and the component where the option has several. */
function whereOf(view: View, input: Assumption): string {
  const owner = ownerOf(view, input)
  if (owner === null) return 'all'
  const component = input.key
    .slice(owner.name.length + 3)
    .split(' / ')
    .slice(0, -1)
    .join(', ')
  return component === '' || owner.populations.length <= 1 ? owner.id : `${owner.id} (${kindWords(component, 1)})`
}
