import { formatAssumption, formatInputRange } from '../../report/format/input.ts'
import type { Assumption, Known } from '../../scenario/model/assumption.ts'
import type { UnknownInput } from '../../scenario/model/unknown-input.ts'
import type { Scenario } from '../../scenario/model.ts'
import type { Taken } from '../../scenario/short-form/taken.ts'
import { terminalText, textTable } from '../terminal/text-table.ts'

/**
 * What `check` says of a scenario: every value with range and source, what is not known, notes for the reader.
 *
 * @param scenario - complete scenario
 * @returns text of several lines
 */
export function explainScenario(scenario: Scenario): string {
  return terminalText(
    [
      `${scenario.title}\n${summary(scenario)}\n`,
      scenario.taken.length === 0
        ? ''
        : `\nWords of the quotes, and what each is taken as\n${textTable(scenario.taken.map(one => takenRow(scenario, one)))}`,
      ...groups(scenario).map(([name, values]) => `\n${name}\n${textTable(values.map(row))}`),
      scenario.unknowns.length === 0
        ? ''
        : `\nNot known: played with many values between these points (1 of 10 below, 1 of 10 above)\n${textTable(scenario.unknowns.map(unknownRow))}`,
      scenario.notes.length === 0 ? '' : `\nNotes\n${scenario.notes.map(note => `  - ${note.text}\n`).join('')}`,
    ].join(''),
  )
}

/**
 * How many values a scenario has and how well they are known, in a line.
 *
 * @param scenario - complete scenario
 */
export function summary(scenario: Scenario): string {
  const count = (known: Known) => scenario.assumptions.filter(value => value.known === known).length
  const { options, assumptions, unknowns } = scenario
  const parts = (['yours', 'published', 'derived', 'recalled', 'judgement'] as const)
    .filter(known => count(known) > 0)
    .map(known => `${count(known)} ${known}`)
  return `Nothing is wrong. ${options.length === 1 ? '1 option' : `${options.length} options`}, ${assumptions.length} values (${parts.join(', ')}), ${unknowns.length} unknowns.`
}

/** A word of the short form; options are called by their name. */
function takenRow(scenario: Scenario, { key, written, as }: Taken): string[] {
  const name = (_: string, index: string): string => scenario.options[Number(index)]?.name ?? index
  const place = key.replace(/^options\.(\d+)/, name).replace(/^site\./, '')
  return [`${place.replaceAll('.', ' / ')}: ${written}`, as]
}

/** Site and money first, then each option. */
function groups(scenario: Scenario): [string, Assumption[]][] {
  const owner = (value: Assumption) => scenario.options.find(option => value.key.startsWith(`${option.name} / `))
  const shared = scenario.assumptions.filter(value => owner(value) === undefined)
  const own = scenario.options.map((option): [string, Assumption[]] => [
    `${option.id}. ${option.name}`,
    scenario.assumptions
      .filter(value => owner(value) === option)
      .map(value => ({ ...value, key: value.key.slice(option.name.length + 3) })),
  ])
  return [['Site, prices and money', shared], ...own]
}

function unknownRow(unknown: UnknownInput): string[] {
  return [unknown.label, formatInputRange(unknown.low, unknown.high, unknown.unit)]
}

function row(value: Assumption): string[] {
  const range = value.low === null || value.high === null ? '' : formatInputRange(value.low, value.high, value.unit)
  const said = value.source.startsWith(value.known) ? value.source : `${value.known}: ${value.source}`
  const source = value.known === 'yours' ? 'yours' : said
  return [value.key, formatAssumption(value), range, source]
}
