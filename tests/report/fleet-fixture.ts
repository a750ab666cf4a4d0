import { fleetFindings } from '../../src/fleet/findings/findings.ts'
import { factsOf } from '../../src/fleet/fleet-facts.ts'
import type { FleetResults } from '../../src/fleet/fleet-results.ts'
import { ChunkPlayer } from '../../src/fleet/play/chunk.ts'
import { shapeOf } from '../../src/fleet/play/fleet-frame.ts'
import { FleetSums } from '../../src/fleet/play/fleet-sums.ts'
import { takeCensus } from '../../src/fleet/sites/census.ts'
import { readFleetSource } from '../../src/fleet/sites/fleet-file.ts'
import { columnsOfTable, type SiteTicket, streamSites } from '../../src/fleet/sites/site-stream.ts'
import { homeTemplate, siteTable, writeFleet } from '../fleet/fleets.ts'

/** Line that makes the fleet of the tests again. */
export const COMMAND = 'lifetally fleet fleet.yaml --draws 100 --seed 1'

/**
 * Results of a small fleet that was played: two models, two makers, one site with a bad age.
 *
 * @param sites - at least 1
 */
export async function fleetResults(sites = 120): Promise<FleetResults> {
  const table = `${siteTable(sites)}bad,-4,3000,alder,maker-a\n`
  const source = await readFleetSource(writeFleet(homeTemplate(), table), null)
  const census = await takeCensus(source, 1, 100)
  const tickets: SiteTicket[] = []
  for await (const ticket of streamSites(source, await columnsOfTable(source))) tickets.push(ticket)
  const { frame } = census
  const shape = shapeOf(frame)
  const { sums, singleVariance, leftOut, firstSites } = new ChunkPlayer(frame).play(tickets)
  const all = new FleetSums(shape)
  all.add(sums, singleVariance)
  const facts = factsOf(source, census, COMMAND)
  const { seed, mark, listed } = frame
  const head = {
    version: '0',
    seed,
    mark,
    part: 1,
    parts: 1,
    done: listed,
    bytes: 0,
    linesHash: '',
    shape,
    facts,
    leftOut,
    firstSites,
  }
  return fleetFindings({ head, sums: all }, { name: 'lifetally', version: '0' })
}
