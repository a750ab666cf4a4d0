import type { OptionResult } from '../../../analysis/results/option.ts'
import { COST_LINE_NAMES, COST_LINES, type CostLine } from '../../../ledger/cost-lines.ts'
import { fillKey, markKey } from '../../charts/look.ts'
import { arrowBack, stackedBars } from '../../charts/stacked-bars.ts'
import { element } from '../../charts/svg.ts'
import { type Finding, finding, type KeyEntry, type Picture, table } from '../../content.ts'
import { formatPricePerKwh } from '../../format/money.ts'
import { formatNumber } from '../../format/number.ts'
import { formatShare } from '../../format/share.ts'
import { joinWords } from '../../names.ts'
import { inGroups } from '../by-option.ts'
import { COST_WORDS, SEGMENT_WORDS } from '../cost-words.ts'
import { howKnown } from '../margin.ts'
import type { View } from '../view.ts'

/** Cost lines as the chart joins them (C7). */
const SEGMENTS = Object.entries(SEGMENT_WORDS).map(([segment, label]) => ({
  label,
  lines: COST_LINE_NAMES.filter(line => COST_LINES[line].segment === segment),
}))

/** Cost lines as the table lists them: segment by segment, then those that are in none. */
const LISTED = [
  ...SEGMENTS.flatMap(({ lines }) => lines),
  ...COST_LINE_NAMES.filter(line => COST_LINES[line].segment === null),
]

/**
 * What each option costs over its life, with the parts (C7).
 *
 * @param view - prepared results
 * @returns the finding
 */
export function lifetimeCost(view: View): Finding {
  const { options } = view.results
  return finding({
    id: 'lifetime-cost',
    topic: 'What each option costs over its life',
    sentence: sentence(view),
    paragraphs: [
      `All money is in prices of the start date. Money paid later counts for less, by ${formatShare(view.results.scenario.discountRate, view.locale)} a year: that is its present value. Lost energy is counted as a cost, so that a design that harvests less does not look cheap.`,
      ...residual(view),
    ],
    tables: inGroups(options, 6).map(group => costTable(view, group)),
    margin: howKnown(view, ['prices', 'failures', 'money']),
  })
}

/**
 * The picture of lifetime cost: one bar an option, cut into the parts it is made of.
 *
 * @param view - prepared results
 * @returns the figure
 */
export function costFigure(view: View): Picture {
  const id = 'lifetime-cost'
  const { options } = view.results
  const groups = SEGMENTS.filter(group => options.some(option => total(option, group.lines) > 0))
  const labels = groups.map(group => group.label)
  const bars = options.map(option => ({
    letter: option.id,
    place: view.place(option),
    parts: groups.map(group => Math.max(0, total(option, group.lines))),
    total: option.lifetimeCost.mean,
    said: view.money(option.lifetimeCost.mean, option.lifetimeCost.standardError).replace(/^\S+\s/u, ''),
  }))
  const { currency } = view.results.scenario
  const description = view.ranked
    .map(option => `${view.name(option)}: ${view.money(option.lifetimeCost.mean, option.lifetimeCost.standardError)}`)
    .join('; ')
  return {
    heading: `Lifetime cost and its parts, ${currency}`,
    key: [...fillKey(id, labels), ...incomeKey(options)],
    svg: stackedBars(
      { id, title: 'Lifetime cost of each option with its parts', description: `Lowest first. ${description}.` },
      bars,
      `${currency}, present value over ${view.horizon}`,
      value => formatNumber(value, 1, view.locale),
    ),
  }
}

/** Lines that are never drawn as a cost: their amount is taken off the bar (O7, C6). */
const INCOMES = COST_LINE_NAMES.filter(line => COST_LINES[line].segment === null)

function incomeKey(options: readonly OptionResult[]): KeyEntry[] {
  const names = INCOMES.filter(line => options.some(({ costs }) => costs[line] !== 0)).map(line => COST_WORDS[line])
  if (names.length === 0) return []
  return [
    markKey(arrowBack(30, 3, 10), `Taken off: ${joinWords(names.map(name => name.toLowerCase()))}`),
    markKey(element('path', { d: 'M16 2V18', class: 'mark' }), 'Lifetime cost: what is left'),
  ]
}

function sentence(view: View): string {
  const { best, ranked } = view
  const last = ranked.filter(option => !view.leftOut.includes(option)).at(-1)
  const cost = (option: OptionResult): string => view.about(option.lifetimeCost.mean, option.lifetimeCost.standardError)
  if (last === undefined || last === best) return `${view.name(best)} costs about ${cost(best)} over its life.`
  return `${view.name(best)} costs least over its life, about ${cost(best)}; ${view.name(last)} costs most, about ${cost(last)}.`
}

/** C6: whether counting what is left at the end reverses the order. */
function residual(view: View): string[] {
  const order = view.ranked
    .filter(option => !view.leftOut.includes(option))
    .sort((a, b) => a.withStraightLine.mean - b.withStraightLine.mean)
  const first = order[0]
  if (view.second === null || first === undefined) return []
  return first.id === view.best.id
    ? [`Counting what the equipment is still worth after ${view.horizon} does not change who comes first.`]
    : [
        `If what the equipment is still worth after ${view.horizon} is counted, ${view.name(first)} comes first instead. Decide whether you will still own the roof then.`,
      ]
}

function costTable(view: View, options: readonly OptionResult[]) {
  const lines = LISTED.filter(line => line === 'upfront' || options.some(option => option.costs[line] !== 0))
  const error = (option: OptionResult, line: CostLine): number => option.costStandardErrors[line]
  const bare = (text: string): string => text.replace(/^\S+\s/u, '')
  return table(
    `Where the lifetime cost comes from, ${view.results.scenario.currency}, present value`,
    ['Cost', ...options.map(option => `#${option.id}`)],
    [
      ...lines.map(line => [
        COST_WORDS[line],
        ...options.map(option => bare(view.money(option.costs[line], error(option, line)))),
      ]),
      [
        'Lifetime cost',
        ...options.map(option => bare(view.money(option.lifetimeCost.mean, option.lifetimeCost.standardError))),
      ],
      [
        'of which paid: without lost energy and battery earnings',
        ...options.map(option => bare(view.money(option.totals.withoutLostEnergy, option.lifetimeCost.standardError))),
      ],
      [
        'Error of the simulation (standard error)',
        ...options.map(option => bare(view.money(option.lifetimeCost.standardError, 0))),
      ],
      [
        'Cost of a delivered kWh',
        ...options.map(option =>
          option.energy.costPerDeliveredKwh === null
            ? '\u2013'
            : formatPricePerKwh(option.energy.costPerDeliveredKwh, '', view.locale)
                .trim()
                .replace(/\sper\skWh$/u, ''),
        ),
      ],
    ],
    [
      `${options.map(option => view.name(option)).join(', ')}.`,
      ...(options.some(({ energy }) => energy.costPerDeliveredKwh === null)
        ? [
            'No cost of a delivered kWh with a battery: it moves energy to hours in which a kWh is worth more, so kWh are not alike.',
          ]
        : []),
      'Each figure is rounded by itself, so parts may not add up to the last digit. In 19 of 20 runs the simulation is off by less than twice its standard error; no finer digit is shown.',
    ],
  )
}

function total(option: OptionResult, lines: readonly CostLine[]): number {
  return lines.reduce((sum, line) => sum + option.costs[line], 0)
}
