import type { FleetResults } from '../../fleet/fleet-results.ts'
import { type Table, table } from '../content.ts'
import { formatNumber } from '../format/number.ts'
import { formatDay, formatYears } from '../format/quantity.ts'
import { renderTemplate } from '../render-template.ts'
import { SHEET_CAUTIONS, type SheetContent } from '../sheet/content.ts'
import { yearsSentence } from './first-roofs.ts'
import { fleetBoxes, SHEET_YEARS } from './fleet-sheet-boxes.ts'
import { type FleetView, fleetViewOf } from './fleet-view.ts'
import { setAside, shortOf } from './pooled-reserve.ts'
import { at, cashOf, yearsFigure } from './years.ts'

/** Height of the picture on the sheet, chart units; ours: with it the page also fits on Letter. */
const PICTURE_HEIGHT = 190

/**
 * sheet.html of a fleet: the one page that is carried to the board (F7).
 *
 * @param results - of the fleet
 * @param date - day to print on it, YYYY-MM-DD; null: none, the program has no clock
 * @returns one HTML file that prints on one sheet of A4
 */
export function renderFleetSheet(results: FleetResults, date: string | null): string {
  const view = fleetViewOf(results)
  const content: SheetContent = {
    reader: 'For the board',
    title: view.name(results.fleet.title),
    facts: facts(view, date),
    answer: [setAside(view), yearsSentence(view), shortOf(view)],
    tables: [needTable(view)],
    figures: [yearsFigure(view, PICTURE_HEIGHT)],
    boxes: fleetBoxes(view),
    cautions: SHEET_CAUTIONS,
  }
  return renderTemplate('sheet', content)
}

function facts(view: FleetView, date: string | null): string {
  const { fleet, draws } = view.results
  const day = date === null ? '' : `${formatDay(date)}. `
  return `${day}${view.sites(fleet.played)} over ${view.horizon}, ${fleet.currency} in prices of the start date; ${formatNumber(draws, 1)} futures played for every site.`
}

function needTable(view: FleetView): Table {
  const { results, horizonYears } = view
  const years = Array.from({ length: Math.min(SHEET_YEARS, horizonYears) }, (_, year) => year)
  const row = (words: string, write: (year: number) => string): string[] => [words, ...years.map(write)]
  const ofMonitoring = results.monitoringFailuresByYear
  const seen = { mean: ofMonitoring.mean, standardError: { mean: ofMonitoring.standardError } }
  const visits = { mean: results.visitsByYear.mean, standardError: { mean: results.visitsByYear.standardError } }
  return table(
    `What all sites need in the next ${formatYears(years.length)}, on average, and bills that 9 in 10 futures stay under, ${results.fleet.currency}`,
    ['Year', ...years.map(year => `#${year + 1}`)],
    [
      row('Bills', year => view.bare(cashOf(view, 'mean', year))),
      row('Bills,\u00a09\u00a0in\u00a010', year => view.bare(cashOf(view, 'p90', year))),
      row('Failures', year => view.count(at(results.failuresByYear, 'mean', year), 0.1)),
      ...(ofMonitoring.mean.some(mean => mean > 0)
        ? [row('of\u00a0monitoring', year => view.count(at(seen, 'mean', year), 0.1))]
        : []),
      row('All\u00a0visits', year => view.count(at(visits, 'mean', year), 0.1)),
    ],
  )
}
