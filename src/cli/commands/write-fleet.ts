import { join } from 'node:path'
import { RankedSites } from '../../fleet/findings/ranked-sites.ts'
import type { FleetResults } from '../../fleet/fleet-results.ts'
import { writeSet } from '../../input/write-whole.ts'
import { roofsSentence, yearsSentence } from '../../report/fleet/first-roofs.ts'
import { renderFleetSheet } from '../../report/fleet/fleet-sheet.ts'
import { fleetViewOf } from '../../report/fleet/fleet-view.ts'
import { laterSentence, setAside } from '../../report/fleet/pooled-reserve.ts'
import { renderFleetReport } from '../../report/fleet/render-fleet.ts'
import { fleetWorkbook, MOST_WORKBOOK_ROOFS } from '../../report/fleet/write-workbook.ts'
import { yearsCsv } from '../../report/fleet/year-rows.ts'
import { finiteJson } from '../../report/write-json.ts'
import { print, printError } from '../terminal/output.ts'
import { answerText, fileNames } from '../terminal/say-answer.ts'

/** Exit code of a fleet that was played with some sites left out. */
export const EXIT_LEFT_OUT = 3

/** What a whole fleet is written to. */
export const FLEET_FILES = ['sheet.html', 'fleet.html', 'fleet.json', 'sites.csv', 'years.csv', 'reserve.xlsx'] as const

/**
 * fleet.json as text.
 *
 * @param results - of the fleet
 * @throws NonFiniteError N4
 */
function fleetJson(results: FleetResults): string {
  return finiteJson(results)
}

/**
 * Writes all files of a fleet, or none (F7, F7a).
 *
 * @param folder - made if missing
 * @param results - of the fleet
 * @param command - line that makes them again
 * @param date - day to print on the sheet, YYYY-MM-DD; null: none
 * @param sitesFiles - lines of the sites as they were played
 * @throws UsageError when the folder cannot be written to
 */
export async function writeFleet(
  folder: string,
  results: FleetResults,
  command: string,
  date: string | null,
  sitesFiles: readonly string[],
): Promise<void> {
  const ranked = await RankedSites.of(sitesFiles)
  try {
    const files: Record<(typeof FLEET_FILES)[number], Parameters<typeof writeSet>[1][string]> = {
      'sheet.html': renderFleetSheet(results, date),
      'fleet.html': renderFleetReport(results, command),
      'fleet.json': fleetJson(results),
      'sites.csv': ranked.csv(),
      'years.csv': yearsCsv(results),
      'reserve.xlsx': await fleetWorkbook(results, await ranked.first(MOST_WORKBOOK_ROOFS)),
    }
    await writeSet(folder, files)
  } finally {
    ranked.close()
  }
}

/**
 * fleet.json to standard output, warnings to standard error, one a line.
 *
 * @param results - of the fleet
 * @throws NonFiniteError N4
 */
export function printFleetJson(results: FleetResults): void {
  print(fleetJson(results))
  for (const line of warningsOf(results, 'sites.csv without --json')) printError(`${line}\n`)
}

function warningsOf(results: FleetResults, reasons: string): string[] {
  const { fleet, notes } = results
  const leftOut = fleet.leftOut === 1 ? '1 site was' : `${fleet.leftOut} sites were`
  const [[usual, count] = ['', 0]] = [...grouped(results.leftOut)].sort(([, a], [, b]) => b - a)
  const most = count > 1 ? ` Most often (${count}): ${usual}.` : ''
  return [
    ...notes.filter(({ code }) => code === 'ages-unknown').map(({ text }) => text),
    ...(fleet.leftOut === 0 ? [] : [`${leftOut} left out; ${reasons} says why.${most}`]),
  ]
}

/** Sites by reason. */
function grouped(leftOut: FleetResults['leftOut']): Map<string, number> {
  const counts = new Map<string, number>()
  for (const { reason } of leftOut) counts.set(reason, (counts.get(reason) ?? 0) + 1)
  return counts
}

/**
 * What the terminal says at the end: the answer, one line a warning, the files.
 *
 * @param results - of the fleet
 * @param folder - of the files
 * @param quiet - the files alone
 */
export function closingWords(results: FleetResults, folder: string, quiet: boolean): string {
  const files = FLEET_FILES.map(name => join(folder, name))
  if (quiet) return fileNames(files)
  const { played } = results.fleet
  const view = fleetViewOf(results)
  const answer = {
    title: `${played === 1 ? '1 site' : `${played} sites`} played.`,
    rows: [],
    sentences: [setAside(view), yearsSentence(view), roofsSentence(view), ...laterSentence(view)],
    warnings: warningsOf(results, 'sites.csv'),
  }
  return answerText(answer, files)
}
