import type { Assumption } from '../../scenario/model.ts'
import { componentOf, ownerOf } from '../by-option.ts'
import { type Table, table } from '../content.ts'
import { formatAssumption, formatInputRange } from '../format.ts'
import { keyWords, tail } from '../key-words.ts'
import { KNOWN_WORDS } from '../margin.ts'
import { kindWords, plainName } from '../names.ts'
import type { View } from '../view.ts'

/**
 * Every assumption with value, range, unit, source and how well it is known. Options that share one share its row.
 *
 * @param view - prepared results
 * @returns one table for what holds for all, one for the options, one a kind of component; none that is empty
 */
export function assumptions(view: View): Table[] {
  const groups = new Map<string, Assumption[]>([
    [SITE, []],
    [OPTIONS, []],
  ])
  for (const input of view.results.inputs) {
    const component = componentOf(view, input)
    const group = component === null ? (ownerOf(view, input) === null ? SITE : OPTIONS) : component
    groups.set(group, [...(groups.get(group) ?? []), input])
  }
  return [...groups]
    .filter(([, inputs]) => inputs.length > 0)
    .map(([group, inputs]) =>
      listing(view, group === SITE || group === OPTIONS ? group : `Component: ${kindWords(group, 1)}`, inputs),
    )
}

const SITE = 'The site, prices and money'
const OPTIONS = 'The options'

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
    row.where.push(ownerOf(view, input)?.id ?? 'all')
    rows.set(same, row)
  }
  // Rows of one key stand together, in the order in which the keys first come.
  const order = [...new Set(inputs.map(input => tail(input.key)))]
  const sorted = [...rows.values()].sort((a, b) => order.indexOf(tail(a.input.key)) - order.indexOf(tail(b.input.key)))
  return table(
    caption,
    ['Assumption', 'For', '#Value', '#Range', 'How known, and from where'],
    sorted.map(({ input, where }) => [
      `${keyWords(input.key)} [${tail(input.key)}]`,
      [...new Set(where)].join(',\u00a0'),
      formatAssumption(input, view.locale),
      formatInputRange(input.low, input.high, input.unit, view.locale),
      known(input),
    ]),
  )
}

/** The grade with its source; neither is said twice. */
function known(input: Assumption): string {
  const grade = KNOWN_WORDS[input.known].toLowerCase()
  const source = plainName(input.source)
  if (input.known === 'yours') return source === 'your scenario' ? grade : `${grade}: ${source}`
  return source.startsWith(grade) ? source : `${grade}: ${source}`
}
