import { unzipSync, zipSync } from 'fflate'
import writeXlsxFile, { type SheetData } from 'write-excel-file/node'
import { SITE_HEADINGS } from '../../fleet/findings/sites-csv.ts'
import type { FleetResults, ValueWithError } from '../../fleet/fleet-results.ts'
import { rounded } from '../format/number.ts'
import { formatLifetimes } from '../format/share.ts'
import { yearHeadings, yearRows } from './year-rows.ts'

/** Roofs in the workbook. Ours: more open slowly in a spreadsheet; all of them are in sites.csv. */
export const MOST_WORKBOOK_ROOFS = 5000

/** Moment that every entry of the workbook carries, so that the same results give the same bytes. */
const MOMENT = '1980-01-01T00:00:00'

/** Columns of sites.csv that are words. */
const WORDS: ReadonlySet<string> = new Set(['Site', 'Played', 'Option', 'Model', 'Maker', 'Why', 'Why left out'])

/**
 * reserve.xlsx: need by year, what to have ready and put aside, and the roofs in the order in which they need attention (F7a).
 *
 * @param results - of the fleet
 * @param roofs - cells of the first roofs as sites.csv has them, the rank first
 * @returns a workbook (ISO/IEC 29500); the same bytes for the same results
 */
export async function fleetWorkbook(results: FleetResults, roofs: readonly (readonly string[])[]): Promise<Uint8Array> {
  const sheets = [
    {
      sheet: 'Need by year',
      data: yearsSheet(results),
      columns: widths(yearHeadings(results), 16),
      stickyRowsCount: 2,
    },
    { sheet: 'Reserve', data: reserveSheet(results), columns: [{ width: 60 }, { width: 16 }, { width: 24 }] },
    {
      sheet: 'Roofs',
      data: roofsSheet(results, roofs),
      columns: widths(['Rank', ...SITE_HEADINGS], 14),
      stickyRowsCount: 2,
    },
  ]
  const written = await writeXlsxFile(sheets).toBuffer()
  // the library puts the time of day on every entry
  return zipSync(unzipSync(written), { mtime: MOMENT })
}

/** What to have ready and put aside (R2a), in the same figures as on every page. */
function reserveSheet({ fleet, reserve, later, draws }: FleetResults): SheetData {
  const { ready, perYear, confidence } = reserve.twoPart
  const row = (words: string, { value, standardError }: ValueWithError): SheetData[number] => [
    words,
    rounded(value, standardError, 1),
    standardError === 0 ? 0 : Number(standardError.toPrecision(1)),
  ]
  return [
    [`${fleet.title}: reserve for all ${fleet.played} sites, ${fleet.currency} in prices of the start date`],
    heading([
      `Pays every bill in ${formatLifetimes(confidence)} futures, ${draws} played`,
      fleet.currency,
      'Give or take (one standard error)',
    ]),
    row('Have ready at the start, what is there included', ready),
    row('Put aside at the start of each year', perYear),
    row('Or, with nothing ready: one level deposit a year', reserve.contributionPerYear),
    ...(later === null ? [] : [row('Not in it: what may be bought later, on average', later.cost.mean)]),
  ]
}

function yearsSheet(results: FleetResults): SheetData {
  const { fleet, draws } = results
  const about = `${fleet.title}: bills of all ${fleet.played} sites by year, ${fleet.currency} in prices of the start date, ${draws} futures`
  return [[about], heading(yearHeadings(results)), ...yearRows(results)]
}

function roofsSheet({ fleet }: FleetResults, roofs: readonly (readonly string[])[]): SheetData {
  const cut = fleet.listed > roofs.length ? `; the first ${roofs.length} of ${fleet.listed}, all are in sites.csv` : ''
  const headings = ['Rank', ...SITE_HEADINGS]
  const rows = roofs.map(cells =>
    cells.map((cell, at) => {
      if (cell === '') return null
      return WORDS.has(headings[at] ?? '') ? cell : Number(cell)
    }),
  )
  return [
    [`${fleet.title}: roofs by expected bill of the next 5 years, ${fleet.currency}${cut}`],
    heading(headings),
    ...rows,
  ]
}

function heading(words: readonly string[]): SheetData[number] {
  return words.map(value => ({ value, fontWeight: 'bold' as const, wrap: true }))
}

function widths(words: readonly string[], width: number): { readonly width: number }[] {
  return words.map(word => ({ width: word.startsWith('Why') ? 60 : width }))
}
