import type { OptionResult } from '../../../analysis/results/option.ts'
import { kindWords } from '../../../topologies/kinds.ts'
import { hundredRoofs, roof } from '../../charts/hundred-roofs.ts'
import { lineChart } from '../../charts/lines.ts'
import { markKey, optionKey, optionLook } from '../../charts/look.ts'
import { type Finding, finding, type Picture, type Table, table } from '../../content.ts'
import { formatNumber } from '../../format/number.ts'
import { formatCount } from '../../format/quantity.ts'
import { formatOfHundred, formatShare, formatSplit, splitOfHundred } from '../../format/share.ts'
import { joinWords } from '../../names.ts'
import { howKnown } from '../margin.ts'
import type { View } from '../view.ts'
import { whatStops } from '../whole-roof.ts'
import { charted, chartedRemark } from './charted.ts'

/**
 * How often something fails, how many visits are paid and by whom (M, O3, W4).
 *
 * @param view - prepared results
 * @returns the finding
 */
export function failuresAndVisits(view: View): Finding {
  const options = view.results.options
  const drawn = charted(view)
  const { best, horizonYears } = view
  const half = Math.min(15, horizonYears)
  const batteries = options.some(option => option.failuresByEffect.batteryOnly.mean > 0)
  const count = (option: OptionResult, effect: keyof OptionResult['failuresByEffect']): string =>
    formatCount(option.failuresByEffect[effect].mean, option.failuresByEffect[effect].standardError, view.locale)
  return finding({
    id: 'failures-and-visits',
    topic: 'Failures, visits, and who pays',
    sentence: visitSentence(view, best),
    paragraphs: [
      `${best.visits.mean > 0 ? `The mean of ${formatCount(best.visits.mean, best.visits.standardError, view.locale)} paid visits says little of any one roof: it has none, one, or more. ` : ''}By year ${half}, a failure has stopped energy on ${formatOfHundred(atLeastOne(best, half))} roofs with ${view.name(best)}${others(view, half)}. These are not alike: with units behind the panels most of them stop one panel, with an inverter on the wall the whole roof. ${otherEffects(view, half)}Most failures do not cost you the whole bill, and a failure under cover can still cost you the call-out.`,
      ...surcharges(view),
    ],
    figures: [
      roofsFigure(view),
      {
        heading: 'Roofs on which a failure has stopped energy at least once, of one panel or of all',
        key: optionKey(
          drawn.map(option => ({ letter: option.id, name: view.name(option), place: view.place(option) })),
        ),
        svg: lineChart(
          {
            id: 'failed',
            title: 'Share of roofs with at least one failure that stops energy, by year',
            description: drawn
              .map(
                option =>
                  `${view.name(option)}: ${formatShare(atLeastOne(option, horizonYears))} by year ${horizonYears}`,
              )
              .join('; '),
          },
          {
            series: drawn.map(option => ({
              look: optionLook(view.place(option)),
              end: { letter: option.id, place: view.place(option) },
              points: option.failuresByEffect.stopEnergy.atLeastOneByYear.map((share, year) => ({
                x: year,
                y: share * 100,
              })),
            })),
            xName: 'Years after the start',
            yName: 'Roofs, %',
            writeX: value => formatNumber(value, 1, view.locale),
            writeY: value => formatNumber(value, 1, view.locale),
            yMust: [0, 100],
          },
        ),
      },
    ],
    tables: [
      table(
        `Visits and failures over ${view.horizon}`,
        [
          'Option',
          '#Failures that stop energy, mean',
          '#of monitoring alone',
          ...(batteries ? ['#of the battery alone'] : []),
          '#Visits you pay for, mean',
          '#Visits in all, mean',
          `#A failure has stopped energy by year ${half}`,
          'Such a failure stops',
        ],
        options.map(option => [
          view.name(option),
          count(option, 'stopEnergy'),
          count(option, 'monitoringOnly'),
          ...(batteries ? [count(option, 'batteryOnly')] : []),
          formatCount(option.visits.mean, option.visits.standardError, view.locale),
          formatCount(option.visitsInAll.mean, option.visits.standardError, view.locale),
          formatShare(atLeastOne(option, half), view.locale),
          whatStops(option),
        ]),
        chartedRemark(view),
      ),
      ...payerTable(view),
      populationTable(view),
    ],
    margin: howKnown(view, ['failures', 'cover', 'prices']),
  })
}

/**
 * Of a hundred roofs, how many pay for no visit, one, or more, with each option.
 *
 * @param view - prepared results
 * @returns the figure
 */
export function roofsFigure(view: View): Picture {
  const strips = charted(view).map(option => {
    const { visitShares } = option
    const [none = 0, one = 0, more = 0] = splitOfHundred([visitShares.none, visitShares.one, visitShares.twoOrMore])
    return { letter: option.id, place: view.place(option), none, one, more }
  })
  const said = strips.map(
    ({ letter, none, one, more }) => `${view.name(letter)}: ${none} pay for none, ${one} for one, ${more} for more`,
  )
  return {
    heading: `A hundred roofs like this one, each for ${view.horizon}: visits that their owners pay for`,
    key: [
      markKey(roof(13, 2, 6, 'none'), 'none'),
      markKey(roof(13, 2, 6, 'one'), 'one'),
      markKey(roof(13, 2, 6, 'more'), 'two or more'),
    ],
    svg: hundredRoofs(
      {
        id: 'roofs',
        title: 'Of a hundred roofs, how many pay for no visit, one, or more',
        description: said.join('; '),
      },
      strips,
    ),
  }
}

function visitSentence(view: View, option: OptionResult): string {
  const [none, one, twoOrMore] = visitSplit(option)
  return `Of 100 roofs with ${view.name(option)}, ${none} pay for no repair visit in ${view.horizon}, ${one} pay for one, ${twoOrMore} for two or more.`
}

function visitSplit({ visitShares }: OptionResult): string[] {
  return formatSplit([visitShares.none, visitShares.one, visitShares.twoOrMore])
}

function others(view: View, year: number): string {
  const rest = view.ranked
    .slice(1, 4)
    .map(option => `${formatOfHundred(atLeastOne(option, year))} with ${view.name(option)}`)
  return rest.length === 0 ? '' : `, ${joinWords(rest)}`
}

function atLeastOne(option: OptionResult, year: number): number {
  return option.failuresByEffect.stopEnergy.atLeastOneByYear[year] ?? 0
}

/** Failures that stop no energy, counted separately. */
function otherEffects(view: View, year: number): string {
  const said = (['monitoringOnly', 'batteryOnly'] as const).flatMap(effect => {
    const hit = view.ranked.filter(option => option.failuresByEffect[effect].mean > 0)
    if (hit.length === 0) return []
    const words = effect === 'monitoringOnly' ? 'monitoring alone has failed' : 'the battery alone has failed'
    const each = hit.slice(0, 4).map(option => {
      const share = option.failuresByEffect[effect].atLeastOneByYear[year] ?? 0
      return `${formatOfHundred(share)} with ${view.name(option)}`
    })
    return [`${words} on ${joinWords(each)}`]
  })
  return said.length === 0 ? '' : `Not counted in that: ${joinWords(said)}. `
}

/** Who pays which part of the repair bills. */
function payerTable(view: View): Table[] {
  const counted = view.results.options.filter(option => option.paidByCover !== null)
  if (counted.length === 0) return []
  const share = (option: OptionResult, line: 'parts' | 'labour' | 'visits'): string => {
    const mine = option.costs[line]
    const bill = mine + (option.paidByCover?.[line] ?? 0)
    return bill > 0 ? formatShare(mine / bill, view.locale) : 'no bill'
  }
  return [
    table(
      'Of each kind of bill, the share you pay yourself; cover pays the rest',
      ['Option', '#Parts', '#Labour', '#Call-outs and roof access'],
      counted.map(option => [
        view.name(option),
        share(option, 'parts'),
        share(option, 'labour'),
        share(option, 'visits'),
      ]),
    ),
  ]
}

/** What it costs on average that a model is no longer sold (M8). */
function surcharges(view: View): string[] {
  const hit = view.ranked.filter(option => option.surcharges > 0)
  if (hit.length === 0) return []
  const amounts = hit.slice(0, 4).map(option => `${view.money(option.surcharges, null)} with ${view.name(option)}`)
  return [
    `If the same model is no longer sold, the replacement needs other fittings. That is in the parts: on average ${joinWords(amounts)}.`,
  ]
}

function populationTable(view: View): Table {
  const rows = view.results.options.flatMap(option => option.populations.map(population => ({ option, population })))
  const planned = rows.some(({ population }) => population.plannedReplacements.mean > 0)
  return table(
    'Which component fails',
    [
      'Component',
      'Option',
      '#Units',
      '#Failures, mean',
      '#Units that fail at least once',
      ...(planned ? ['#Planned replacements'] : []),
    ],
    rows.map(({ option, population }) => [
      `${population.tier === null ? '' : `${population.tier} `}${kindWords(population.kind, population.count)}`,
      option.id,
      formatNumber(population.count, 1, view.locale),
      formatCount(population.failures.mean, population.failures.standardError, view.locale),
      formatCount(population.firstFailures.mean, population.firstFailures.standardError, view.locale),
      ...(planned ? [formatCount(population.plannedReplacements.mean, null, view.locale)] : []),
    ]),
  )
}
