import type { OptionResult } from '../../analysis/results/option.ts'
import { inGroups } from '../by-option.ts'
import { lineChart } from '../charts/lines.ts'
import { lineKey, optionLook } from '../charts/look.ts'
import { type Figure, type Finding, finding, table } from '../content.ts'
import { formatNumber } from '../format/number.ts'
import { formatYears } from '../format/quantity.ts'
import { formatShare } from '../format/share.ts'
import { howKnown } from '../margin.ts'
import type { View } from '../view.ts'
import { chartedRemark, MOST_PANELS, panelled, tableYears } from './charted.ts'

/**
 * What the warranty promises beside what it pays (V3).
 *
 * @param view - prepared results
 * @returns the finding
 */
export function cover(view: View): Finding {
  const said = promise(view.best)
  return finding({
    id: 'cover',
    topic: 'What the warranty promises and what it pays',
    sentence:
      said === null
        ? `With ${view.name(view.best)} nothing failed, so no cover was called on.`
        : `In ${firstYears(view)} the papers of ${view.name(view.best)} promise ${formatShare(said.paper, view.locale)} of the parts; of a whole repair bill you are spared ${formatShare(said.effective, view.locale)}.`,
    paragraphs: [
      'The gap has four causes: labour cover that ends before parts cover, call-outs and roof access that no one promised, claims that are refused, and providers that no longer exist. If the installer or the maker goes, the paper stays and the cover does not.',
    ],
    figures: panelled(view).map(option => coverFigure(view, option)),
    tables: inGroups(view.results.options, 4).map(options =>
      table(
        'Promised and real cover of the first component, by year of failure',
        ['Year', ...options.flatMap(option => [`#${option.id}: parts promised`, `#${option.id}: bill spared`])],
        tableYears(view.horizonYears).map(year => [
          `${year}`,
          ...options.flatMap(option => [
            shareOrNone(option.coverByYear.paper[year - 1] ?? null, view.locale),
            shareOrNone(option.coverByYear.effective[year - 1] ?? null, view.locale),
          ]),
        ]),
        [
          'The first component of an option is the first one that its quote lists; terms of its other components are not in this table.',
          '“no failure”: in no lifetime did it fail in that year.',
          ...chartedRemark(view, MOST_PANELS),
        ],
      ),
    ),
    margin: howKnown(view, ['cover']),
  })
}

/** Years that the sentence speaks of. */
const FIRST_YEARS = 10

/** `the first 10 years`, or the whole of a shorter horizon. */
function firstYears(view: View): string {
  return view.horizonYears > FIRST_YEARS ? `the first ${formatYears(FIRST_YEARS)}` : view.horizon
}

function promise(option: OptionResult): { paper: number; effective: number } | null {
  const mean = (values: readonly (number | null)[]): number | null => {
    const known = values.slice(0, FIRST_YEARS).filter(value => value !== null)
    return known.length === 0 ? null : known.reduce((sum, value) => sum + value, 0) / known.length
  }
  const paper = mean(option.coverByYear.paper)
  const effective = mean(option.coverByYear.effective)
  return paper === null || effective === null ? null : { paper, effective }
}

function shareOrNone(share: number | null, locale: string): string {
  return share === null ? 'no failure' : formatShare(share, locale)
}

function coverFigure(view: View, option: OptionResult): Figure {
  const { colour } = optionLook(view.place(option))
  const points = (values: readonly (number | null)[]) =>
    values.map((share, year) => ({ x: year + 0.5, y: share === null ? null : share * 100 }))
  const paper = { colour, dash: '2 3' }
  const effective = { colour, dash: 'none' }
  const said = promise(option)
  return {
    heading: `Promised and real cover: ${view.name(option)}`,
    key: [lineKey(paper, 'parts promised on paper'), lineKey(effective, 'whole bill spared in fact')],
    svg: lineChart(
      {
        id: `cover-${option.id}`,
        title: `Paper cover and effective cover by year of failure, ${view.name(option)}`,
        description:
          said === null
            ? 'No failures.'
            : `In ${firstYears(view)} ${formatShare(said.paper, view.locale)} of parts promised, ${formatShare(said.effective, view.locale)} of the bill spared.`,
      },
      {
        series: [
          { points: points(option.coverByYear.paper), look: paper, end: { words: 'on paper' } },
          { points: points(option.coverByYear.effective), look: effective, end: { words: 'in fact' } },
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
