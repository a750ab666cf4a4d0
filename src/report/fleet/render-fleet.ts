import type { FleetResults } from '../../fleet/fleet-results.ts'

/** Stand-in of the first commit: replaced below. */
export function renderFleetReport(results: FleetResults, command: string): string {
  return `${results.fleet.title} ${command}`
}
