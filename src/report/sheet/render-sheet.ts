import type { Results } from '../../analysis/results.ts'
import type { Table } from '../content.ts'
import { notCounted } from '../estimate/not-counted.ts'
import type { Audience } from '../estimate/parts.ts'
import { costFigure } from '../estimate/sections/lifetime-cost.ts'
import { type View, viewOf } from '../estimate/view.ts'
import { formatDay } from '../format/quantity.ts'
import { formatShare } from '../format/share.ts'
import { plainName } from '../names.ts'
import { renderTemplate } from '../render-template.ts'
import { boardBoxes, boardTables } from './board.ts'
import { buyerBoxes } from './buyer.ts'
import { SHEET_CAUTIONS, type SheetBox, type SheetContent } from './content.ts'
import { customerBoxes, customerTables } from './customer.ts'
import { optionTables } from './option-table.ts'
import { sheetAnswer } from './sheet-answer.ts'

/** Options up to which a board’s two tables leave room for the picture; ours. */
const MOST_WITH_TWO_TABLES = 3

/** What the sheet needs in addition to the results. */
export interface SheetSettings {
  /** Whose page it is. */
  readonly audience: Audience
  /** Day to print on it, YYYY-MM-DD; null: none, the program has no clock. */
  readonly date: string | null
  /** BCP 47 tag of digits and separators; default en-GB. */
  readonly locale?: string
}

const READERS: Readonly<Record<Audience, string>> = {
  buyer: 'For the household that decides',
  retailer: 'For the customer',
  owner: 'For the board',
}

const BOXES: Readonly<Record<Audience, (view: View) => readonly SheetBox[]>> = {
  buyer: buyerBoxes,
  retailer: customerBoxes,
  owner: boardBoxes,
}

const TABLES: Readonly<Record<Audience, (view: View) => readonly Table[]>> = {
  buyer: optionTables,
  retailer: customerTables,
  owner: view => [...optionTables(view), ...boardTables(view)],
}

/**
 * The one page that is carried to the kitchen table, to the customer or to the board, as one HTML file.
 *
 * @param results - at least one option
 * @param settings - whose page, which day
 * @returns HTML that prints on one sheet of A4
 * @throws RangeError without options; TypeError where a text is missing
 */
export function renderSheet(results: Results, settings: SheetSettings): string {
  const view = viewOf(results, settings.locale)
  const { audience } = settings
  const content: SheetContent = {
    reader: READERS[audience],
    title: plainName(results.scenario.title),
    facts: facts(view, settings.date),
    answer: sheetAnswer(view, audience),
    tables: TABLES[audience](view),
    figures: audience === 'owner' && results.options.length > MOST_WITH_TWO_TABLES ? [] : [costFigure(view)],
    boxes: BOXES[audience](view),
    cautions: [...notCounted(view), SHEET_CAUTIONS].join(' '),
  }
  return renderTemplate('sheet', content)
}

function facts(view: View, date: string | null): string {
  const { scenario } = view.results
  const rate = formatShare(scenario.discountRate, view.locale)
  const day = date === null ? '' : `${formatDay(date, view.locale)}. `
  return `${day}Costs over ${scenario.horizonYears} years in ${scenario.currency} of today; money paid later counts ${rate} less for each year.`
}
