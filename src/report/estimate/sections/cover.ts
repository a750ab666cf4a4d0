import type { OptionResult } from '../../../analysis/results/option.ts'
import { lineChart } from '../../charts/lines.ts'
import { lineKey, optionLook } from '../../charts/look.ts'
import { type Finding, finding, type Picture, table } from '../../content.ts'
import { formatNumber } from '../../format/number.ts'
import { formatYears } from '../../format/quantity.ts'
import { formatShare } from '../../format/share.ts'
import { componentWords } from '../../names.ts'
import { inGroups } from '../by-option.ts'
import { howKnown } from '../margin.ts'
import type { View } from '../view.ts'
import { chartedRemark, MOST_PANELS, panelled, tableYears } from './charted.ts'

/**
 * What the warranty promises and what it pays (V3).
 *
 * @param view - prepared results
 * @returns the finding
 */
export function cover(view: View): Finding {
  const { years, paper, effective } = view.best.coverInAll.firstYears
  return finding({
    id: 'cover',
    topic: 'What the warranty promises and what it pays',
    sentence:
      paper === null || effective === null
        ? `With ${view.name(view.best)} nothing failed in the first ${formatYears(years)}, so no claim was made.`
        : `In ${firstYears(view)} the warranty of ${view.name(view.best)} promises ${formatShare(paper, view.locale)} of the cost of parts; of the whole repair bills you are spared ${formatShare(effective, view.locale)}.`,
    paragraphs: [
      'The gap has four causes: labour cover that ends before parts cover, call-outs and roof access that no one promised, claims that are refused, and providers that no longer exist. If the installer or the maker closes, its promise is on paper only.',
    ],
    figures: panelled(view).map(option => coverFigure(view, option)),
    tables: [
      componentTable(view),
      ...inGroups(view.results.options, 4).map(options =>
        table(
          'Promised and real cover of all components, by year of failure',
          ['Year', ...options.flatMap(option => [`#${option.id}: parts promised`, `#${option.id}: bill spared`])],
          tableYears(view.horizonYears).map(year => [
            `${year}`,
            ...options.flatMap(option => [
              shareOrNone(option.coverInAll.paper[year - 1] ?? null, view.locale),
              shareOrNone(option.coverInAll.effective[year - 1] ?? null, view.locale),
            ]),
          ]),
          [...coverRemarks(options, view), ...chartedRemark(view, MOST_PANELS)],
        ),
      ),
    ],
    margin: howKnown(view, ['cover']),
  })
}

/** Remarks on cells and rises in the table of years that could be misread. */
function coverRemarks(options: readonly OptionResult[], view: View): string[] {
  const years = tableYears(view.horizonYears)
  const each = (which: 'paper' | 'effective') =>
    options.map(({ coverInAll }) => years.map(year => coverInAll[which][year - 1] ?? null))
  const none = [...each('paper'), ...each('effective')].some(shares => shares.includes(null))
  const rises = each('paper').some(shares =>
    shares.some((share, i) => share !== null && share > (shares[i - 1] ?? 1) + 0.005),
  )
  return [
    ...(none ? ['\u201cno failure\u201d: in no lifetime did anything fail in that year.'] : []),
    ...(rises
      ? [
          'Where the promised share rises again, replaced units that bring a cover of their own, or longer terms of other components, make up more of the failures of that year.',
        ]
      : []),
  ]
}

/** Years that the sentence covers. */
const FIRST_YEARS = 10

/** `the first 10 years`, or the whole of a shorter horizon. */
function firstYears(view: View): string {
  return view.horizonYears > FIRST_YEARS ? `the first ${formatYears(FIRST_YEARS)}` : view.horizon
}

/** One row a component: each has its own term. */
function componentTable(view: View) {
  return table(
    `Promised and real cover of each component, failures of ${firstYears(view)}`,
    ['Option', 'Component', '#Parts years', '#Parts promised', '#Bill spared'],
    view.results.options.flatMap(option =>
      option.coverByComponent.map(({ component, years, firstYears: { paper, effective } }) => [
        view.name(option),
        componentWords(component),
        formatNumber(years, 1, view.locale),
        shareOrNone(paper, view.locale),
        shareOrNone(effective, view.locale),
      ]),
    ),
  )
}

function shareOrNone(share: number | null, locale: string): string {
  return share === null ? 'no failure' : formatShare(share, locale)
}

function coverFigure(view: View, option: OptionResult): Picture {
  const { colour } = optionLook(view.place(option))
  const points = (values: readonly (number | null)[]) =>
    values.map((share, year) => ({ x: year + 0.5, y: share === null ? null : share * 100 }))
  const paper = { colour, dash: '2 3' }
  const effective = { colour, dash: 'none' }
  const { paper: promised, effective: spared } = option.coverInAll.firstYears
  return {
    heading: `Promised and real cover: ${view.name(option)}`,
    key: [lineKey(paper, 'parts promised on paper'), lineKey(effective, 'whole bill spared in fact')],
    svg: lineChart(
      {
        id: `cover-${option.id}`,
        title: `Paper cover and effective cover by year of failure, ${view.name(option)}`,
        description:
          promised === null || spared === null
            ? 'No failures.'
            : `In ${firstYears(view)} ${formatShare(promised, view.locale)} of parts promised, ${formatShare(spared, view.locale)} of the bills spared.`,
      },
      {
        series: [
          { points: points(option.coverInAll.paper), look: paper, end: { words: 'on paper' } },
          { points: points(option.coverInAll.effective), look: effective, end: { words: 'in fact' } },
        ],
        xName: 'Year of failure',
        yName: 'Spared, %',
        writeX: value => formatNumber(value, 1, view.locale),
        writeY: value => formatNumber(value, 1, view.locale),
        yMust: [0, 100],
        height: 130,
      },
    ),
  }
}
