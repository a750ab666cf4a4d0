import type { WarrantySweep } from '../../../analysis/results/what-if.ts'
import { lineChart } from '../../charts/lines.ts'
import { lineKey, optionLook } from '../../charts/look.ts'
import { type Finding, finding, type Picture, table } from '../../content.ts'
import { formatNumber } from '../../format/number.ts'
import { formatYears } from '../../format/quantity.ts'
import { componentWords, joinList } from '../../names.ts'
import { howKnown } from '../margin.ts'
import type { View } from '../view.ts'
import { panelled } from './charted.ts'

// Ours: those with an offer first, and no more than a page of them.
const MOST_SWEEPS = 3

type Offer = WarrantySweep['offers'][number]

/**
 * What a longer warranty is worth, and whether an offered one earns its price (V1–V3, W6).
 *
 * @param view - prepared results
 * @returns the finding; null without a sweep
 */
export function warrantyTerm(view: View): Finding | null {
  const sweeps = view.results.warrantySweep
  if (sweeps.length === 0) return null
  const offers = sweeps.flatMap(sweep => sweep.offers.map(offer => ({ sweep, offer })))
  const shown = new Set([...offers.map(({ sweep }) => sweep.option), ...panelled(view).map(option => option.id)])
  const drawn = sweeps.filter(sweep => shown.has(sweep.option)).slice(0, MOST_SWEEPS)
  const { currency } = view.results.scenario
  return finding({
    id: 'warranty-term',
    topic: 'What a longer warranty is worth',
    sentence:
      offers[0] === undefined ? termSentence(view, sweeps) : offerSentence(view, offers[0].sweep, offers[0].offer),
    paragraphs: [
      ...offers.slice(1).map(({ sweep, offer }) => offerSentence(view, sweep, offer)),
      ...othersSentences(view, sweeps),
      'The worth of a term is the fall in what you pay, less the energy lost while a claim is settled. It is what a fair price would be. Most of the gap between the two lines is the risk that the provider has closed by the time you need it; \u201cif it stays\u201d leaves that risk out.',
    ],
    figures: drawn.map(sweep => sweepFigure(view, sweep)),
    tables: [
      ...(offers.length === 0
        ? []
        : [
            table(
              `Offered terms, ${currency}`,
              [
                'Offer',
                'Option',
                '#Labour years',
                '#Price',
                '#Worth',
                '#Worth if the provider stays',
                'Verdict',
                'In the option',
              ],
              offers.map(({ sweep, offer }) => [
                `${formatYears(offer.years)} on the ${componentWords(offer.component)}`,
                view.name(sweep.option),
                formatNumber(offer.labourYears, 1, view.locale),
                view.money(offer.price, 0),
                view.money(offer.worth, offer.standardError),
                view.money(offer.worthIfProviderStays, offer.standardError),
                offer.verdict,
                offer.taken ? 'taken' : 'not taken',
              ]),
            ),
          ]),
      ...pairsOf(sweeps).map(pair => sweepTable(view, pair)),
    ],
    margin: howKnown(view, ['cover', 'failures']),
  })
}

function offerSentence(view: View, sweep: WarrantySweep, offer: Offer): string {
  const what = `The ${offer.years}-year warranty on the ${componentWords(offer.component)} of ${view.name(sweep.option)}`
  const price = view.money(offer.price, 0)
  const worth = view.money(Math.max(0, offer.worth), offer.standardError)
  const said = {
    'worth its price': `${what} is worth its price: it costs ${price} and saves about ${worth} on average.`,
    'not worth its price': `${what} is not worth its price: it costs ${price} and saves about ${worth} on average.`,
    'too close to call': `${what} is too close to call: it costs ${price} and saves about as much, ${worth}.`,
  }
  return said[offer.verdict]
}

function termSentence(view: View, sweeps: readonly WarrantySweep[]): string {
  const sweep = sweeps.find(one => one.option === view.best.id) ?? sweeps[0]
  if (sweep === undefined) return ''
  const ten = Math.min(10, sweep.years.length - 1)
  const worth = sweep.worth[ten] ?? 0
  const error = sweep.worthStandardErrors[ten] ?? null
  return `For ${view.name(sweep.option)}, ${formatYears(sweep.years[ten] ?? ten)} of cover on the ${componentWords(sweep.component)} are worth about ${view.money(worth, error)} against none.`
}

/** What the cover of the components after the first is worth; their terms are not swept. */
function othersSentences(view: View, sweeps: readonly WarrantySweep[]): string[] {
  const those = sweeps.filter(({ otherComponents }) => otherComponents.length > 0)
  const draws = Math.max(...those.flatMap(({ otherComponents }) => otherComponents.map(other => other.draws)))
  return those.map((sweep, i) => {
    const each = sweep.otherComponents.map(
      ({ component, years, worth, standardError }) =>
        `${formatYears(years)} on the ${componentWords(component)} ${view.money(worth, standardError)}`,
    )
    const source = i === 0 ? ` (from at most ${draws} lifetimes)` : ''
    return `With ${view.name(view.option(sweep.option))}, the cover of the other components as quoted is worth, against none${source}: ${joinList(each)}.`
  })
}

function sweepFigure(view: View, sweep: WarrantySweep): Picture {
  const { currency } = view.results.scenario
  const look = optionLook(view.place(view.option(sweep.option)))
  const solid = { colour: look.colour, dash: 'none' }
  const dashed = { colour: look.colour, dash: '6 4' }
  const points = (values: readonly number[]) =>
    sweep.years.map((year, index) => ({ x: year, y: values[index] ?? null }))
  const last = sweep.outOfPocketMean.at(-1) ?? 0
  return {
    heading: `What you pay for repairs against the years of cover: ${view.name(sweep.option)}, ${currency}`,
    key: [lineKey(solid, 'as it is: the provider may be gone'), lineKey(dashed, 'if the provider stays')],
    svg: lineChart(
      {
        id: `term-${sweep.option}`,
        title: `Out-of-pocket cost against warranty term, ${view.name(sweep.option)}`,
        description: `Without cover ${view.money(sweep.outOfPocketMean[0] ?? 0, null)}; with ${formatYears(sweep.years.at(-1) ?? 0)} ${view.money(last, null)}, or ${view.money(sweep.outOfPocketIfProviderStays.at(-1) ?? 0, null)} if the provider stays.`,
      },
      {
        series: [
          { points: points(sweep.outOfPocketMean), look: solid, end: { words: 'as it is' } },
          { points: points(sweep.outOfPocketIfProviderStays), look: dashed, end: { words: 'if it stays' } },
        ],
        xName: `Years of parts cover, ${componentWords(sweep.component)}`,
        yName: `${currency}, present value`,
        writeX: value => formatNumber(value, 1, view.locale),
        writeY: value => formatNumber(value, 1, view.locale),
        yMust: [0, 1],
        height: 170,
      },
    ),
  }
}

// Three columns an option: two options fill the width.
function pairsOf(sweeps: readonly WarrantySweep[]): WarrantySweep[][] {
  return sweeps.flatMap((_, index) => (index % 2 === 0 ? [sweeps.slice(index, index + 2)] : []))
}

function sweepTable(view: View, sweeps: readonly WarrantySweep[]) {
  const longest = sweeps.reduce(
    (longer, sweep) => (sweep.years.length > longer.length ? sweep.years : longer),
    sweeps[0]?.years ?? [],
  )
  const shown = longest.filter(year => year % 5 === 0)
  return table(
    `What is left to pay for repairs, by years of parts cover, ${sweeps.map(sweep => view.name(sweep.option)).join(' and ')}, ${view.results.scenario.currency}, present value`,
    [
      'Years',
      ...sweeps.flatMap(sweep => [
        `#${sweep.option}: you pay`,
        `#${sweep.option}: if it stays`,
        `#${sweep.option}: term is worth`,
      ]),
    ],
    shown.map(year => [
      String(year),
      ...sweeps.flatMap(sweep => {
        const index = sweep.years.indexOf(year)
        const error = sweep.worthStandardErrors[index] ?? null
        const at = (values: readonly number[], standardError: number | null): string => {
          const value = values[index]
          return value === undefined
            ? 'none'
            : view.money(value, standardError === 0 ? null : standardError).replace(/^\S+\s/u, '')
        }
        return [at(sweep.outOfPocketMean, error), at(sweep.outOfPocketIfProviderStays, error), at(sweep.worth, error)]
      }),
    ]),
  )
}
