import { join } from 'node:path'
import type { FleetResults } from '../fleet/fleet-results.ts'
import { renderFleetReport } from '../report/fleet/render-fleet.ts'
import { finiteJson } from '../report/write-json.ts'

/** Exit code of a fleet that was played with some sites left out (design section 3). */
export const EXIT_LEFT_OUT = 3

/** What a whole fleet is written to. */
export const FLEET_FILES = ['fleet.json', 'fleet.html', 'sites.csv'] as const

/**
 * fleet.json as text.
 *
 * @param results - of the fleet
 * @throws NonFiniteError N4
 */
export function fleetJson(results: FleetResults): string {
  return finiteJson(results)
}

/**
 * The files of a fleet beside sites.csv.
 *
 * @param results - of the fleet
 * @param command - line that makes them again
 */
export function fleetFiles(results: FleetResults, command: string): Readonly<Record<string, string>> {
  return { 'fleet.json': fleetJson(results), 'fleet.html': renderFleetReport(results, command) }
}

/**
 * What the terminal says at the end.
 *
 * @param results - of the fleet
 * @param folder - of the files
 */
export function closingWords({ fleet, notes }: FleetResults, folder: string): string {
  const done = `${fleet.played === 1 ? '1 site' : `${fleet.played} sites`} played. The report is in ${join(folder, 'fleet.html')}\n`
  const warnings = notes.filter(({ code }) => code === 'ages-unknown').map(({ text }) => `${text}\n`)
  if (fleet.leftOut === 0) return `${warnings.join('')}${done}`
  const sites = fleet.leftOut === 1 ? '1 site was' : `${fleet.leftOut} sites were`
  return `${warnings.join('')}${done}${sites} left out; ${join(folder, 'sites.csv')} says why.\n`
}
