import { formatNumber } from '../format/number.ts'
import { formatShare } from '../format/share.ts'
import type { SheetBox } from '../sheet/content.ts'
import type { FleetView } from './fleet-view.ts'
import { OPERATOR_QUESTIONS } from './operator-questions.ts'
import { laterSentence } from './pooled-reserve.ts'
import { commonCause } from './pooling.ts'

/** Years in the table of the sheet. */
export const SHEET_YEARS = 10
/** Models on the sheet; ours. */
const MOST_MODELS = 3
/** Characters of a name, and of a sentence with names, that the one page has room for; ours. */
const NAME_LENGTH = 24
const SENTENCE_LENGTH = 150

/** What is the same in every future. */
const NOT_VARIED = 'Not varied: warranty terms, when visits are made, interest, figures given without a range.'

/**
 * The boxes of a fleet's sheet: roofs and models that come first, how sure, what the data leave open, what to ask.
 *
 * @param view - prepared results
 * @returns boxes with at least one point
 */
export function fleetBoxes(view: FleetView): SheetBox[] {
  return [
    { heading: 'First roofs: chance of a failure and expected bill in five years', points: roofs(view) },
    { heading: 'The models that need most', points: models(view) },
    { heading: 'How sure this is', points: [byLuck(view), commonCause(view), NOT_VARIED].filter(text => text !== '') },
    { heading: 'What the data leave open', points: leftOpen(view) },
    { heading: 'Ask the operator', points: OPERATOR_QUESTIONS },
  ].filter(box => box.points.length > 0)
}

/** F7a: at most ten, in order. The end of each reason, what a failure costs, is left out: the bill includes it. */
function roofs(view: FleetView): string[] {
  const { firstSites, fleet } = view.results
  return firstSites.map(({ id, chanceNextFiveYears, billNextFiveYears, why }) => {
    const [reason = ''] = why.split(';')
    return `${brief(view, id, NAME_LENGTH)}: ${formatShare(chanceNextFiveYears)}, ${fleet.currency}\u00a0${formatNumber(billNextFiveYears, 1)}; ${reason}.`
  })
}

function models(view: FleetView): string[] {
  return [...view.results.models]
    .filter(({ meanCash }) => meanCash > 0)
    .sort((a, b) => b.meanCash - a.meanCash)
    .slice(0, MOST_MODELS)
    .map(model => {
      const bills = view.money({ value: model.meanCash, standardError: model.meanCashStandardError })
      const wave = model.peakYear === null ? '' : `; most first failures in year\u00a0${model.peakYear + 1}`
      return `${brief(view, model.name, NAME_LENGTH)}, ${view.sites(model.sites)}: ${bills} in ${view.horizon}, ${formatShare(model.shareOfCash)} of all bills${wave}.`
    })
}

/** How far figures would move in another run: one standard error (F7b). */
function byLuck(view: FleetView): string {
  const { cashByYear, reserve } = view.results
  const { ready, perYear } = reserve.twoPart
  const ofYears = Math.max(...cashByYear.standardError.mean.slice(0, SHEET_YEARS))
  return `With other luck these move by about ${view.money(ready.standardError)} at the start, ${view.money(perYear.standardError)} a year, and up to ${view.money(ofYears)} in a year\u2019s average bills.`
}

/** Sites left out (F5), ages not known and columns not used (F7a), survivors not counted (M2). */
function leftOpen(view: FleetView): string[] {
  const { fleet, notes } = view.results
  const said = notes.map(({ code, text }) => (code === 'survivors-not-counted' ? SURVIVORS : text))
  const missing =
    fleet.leftOut === 0
      ? []
      : [
          `${view.sites(fleet.leftOut)} of ${formatNumber(fleet.listed, 1)} could not be played and ${fleet.leftOut === 1 ? 'is' : 'are'} in no figure; sites.csv says why.`,
        ]
  const open = [...laterSentence(view), ...missing, ...said.map(text => brief(view, text, SENTENCE_LENGTH))]
  return open.length > 0 ? open : ['Every site was played, every age is known, and every column of the list is used.']
}

/** The note of the report without its keys. */
const SURVIVORS =
  'Units that have not failed so far are not counted in favour of their model; your own records would do that.'

function brief(view: FleetView, text: string, most: number): string {
  const letters = [...text]
  return view.name(letters.length > most ? `${letters.slice(0, most - 1).join('')}\u2026` : text)
}
