import { readFileSync, writeFileSync } from 'node:fs'
import { dirname, join } from 'node:path'
import { describe, expect, test } from 'vitest'
import { fleetFindings } from '../../src/fleet/findings/findings.ts'
import { joinParts } from '../../src/fleet/join-parts.ts'
import { partBytes } from '../../src/fleet/part-file.ts'
import { FleetSets } from '../../src/fleet/play/fleet-sets.ts'
import { playPart } from '../../src/fleet/play-part.ts'
import { readFleetSource } from '../../src/fleet/sites/fleet-file.ts'
import { isRead, type ReadSite, SiteReader } from '../../src/fleet/sites/site-reader.ts'
import type { FittedFailure } from '../../src/scenario/model/failure.ts'
import { homeTemplate, opened, writeFleet } from './fleets.ts'

const FIT = readFileSync('examples/service-records-fit.json', 'utf8')
const GROUPS: readonly string[] = JSON.parse(FIT).groups.map(({ name }: { name: string }) => name)
const [FIRST = '', SECOND = ''] = GROUPS
const TABLE = 'id,model,ac_kw,age_years\na,alder,4,3\nb,birch,4,5\nc,alder,6,8\nd,birch,3,0\ne,cedar,3,2\n'
const RECORDS = `records: {alder: "fit.json#${FIRST}", birch: "fit.json#${SECOND}"}\n`

function fleetOf(more: string, template = homeTemplate({ component: 'failure: {shape: 2, b10_years: 5}' })): string {
  const path = writeFleet(template, TABLE, more)
  writeFileSync(join(dirname(path), 'fit.json'), FIT)
  return path
}

function fitOf(site: ReadSite): FittedFailure {
  const source = site.siteClass.option.populations[0]?.failure.source
  if (source?.form !== 'fitted') throw new Error(`${site.ticket.id} has no fit`)
  return source
}

async function read(path: string): Promise<ReadSite[]> {
  const { census, tickets } = await opened(path, 20)
  const reader = new SiteReader(census.frame.form)
  return tickets.map(ticket => reader.read(ticket)).filter(isRead)
}

describe('F7a: records by model', () => {
  test('each model fails as its own records say; a model that is not listed as the template says', async () => {
    const sites = await read(fleetOf(RECORDS))
    expect(sites).toHaveLength(5)
    const [a, b, c, d, e] = sites
    if (a === undefined || b === undefined || c === undefined || d === undefined || e === undefined)
      throw new Error('five')
    expect(fitOf(a).draws).toEqual(fitOf(c).draws)
    expect(fitOf(b).draws).toEqual(fitOf(d).draws)
    expect(fitOf(a).draws).not.toEqual(fitOf(b).draws)
    expect(e.siteClass.option.populations[0]?.failure.source.form).toBe('stated')
  })

  test('F3: the uncertainty of a fit is one unknown for the fleet: in a draw all its sites take the same curve', async () => {
    const sites = await read(fleetOf(RECORDS))
    const sets = new FleetSets(1, 60)
    const placeOf = (site: ReadSite): number[] =>
      sets.of(site.siteClass.scenario).map(set => set.uniforms[fitOf(site).unknown ?? -1] ?? Number.NaN)
    const [a, b, c, d] = sites.slice(0, 4).map(placeOf)
    expect(new Set(a).size).toBe(60)
    expect(c).toEqual(a)
    expect(d).toEqual(b)
    expect(b).not.toEqual(a)
  })

  test('files are looked for next to the fleet file, though the template is elsewhere', async () => {
    const path = fleetOf(RECORDS)
    const folder = dirname(path)
    const other = writeFleet(homeTemplate(), TABLE)
    const fleet = readFileSync(path, 'utf8').replace('template.yaml', join(dirname(other), 'template.yaml'))
    writeFileSync(join(folder, 'fleet.yaml'), fleet)
    expect(await read(path)).toHaveLength(5)
  })

  test('a model that no site has, a group that no fit has', async () => {
    await expect(read(fleetOf(`records: {aldr: "fit.json#${FIRST}"}\n`))).rejects.toThrow(
      'records\n  no site that can be played has the model "aldr"; did you mean "alder"?',
    )
    await expect(read(fleetOf('records: {alder: "fit.json#nothing"}\n'))).rejects.toThrow(
      'records.alder\n  fit.json: the file has no group "nothing"; it has',
    )
    await expect(read(fleetOf('records: {alder: "lost.json"}\n'))).rejects.toThrow(
      'records.alder\n  lost.json: there is no such file; check the name',
    )
    await expect(read(fleetOf('records: {alder: 3}\n'))).rejects.toThrow(
      'a table from model to a result of lifetally fit',
    )
  })

  test('a part played with another fit is not joined with the rest', async () => {
    const path = fleetOf(RECORDS)
    const folder = dirname(path)
    const play = async (part: number) => {
      const settings = {
        ...{ seed: 1, draws: 20, threads: 1, part, parts: 2, workFolder: join(folder, `work-${part}`), resume: false },
        ...{ version: '0', command: '', chunkSites: 5, saveEverySeconds: 1, now: () => 0, needFolder: () => {} },
      }
      const played = await playPart(await readFleetSource(path, null), settings, () => {})
      writeFileSync(join(folder, `${part}.part`), partBytes(played))
      writeFileSync(join(folder, `${part}.csv`), readFileSync(played.sitesFile))
      return join(folder, `${part}.part`)
    }
    const one = await play(1)
    const fleet = await joinParts([one, await play(2)], '0')
    expect(fleetFindings(fleet, { name: 'lifetally', version: '0' }).fleet.played).toBe(5)
    const fit = JSON.parse(FIT)
    fit.groups[0].models[0].modes[0].characteristicLife *= 2
    fit.groups[0].best = fit.groups[0].models[0].name
    writeFileSync(join(folder, 'fit.json'), JSON.stringify(fit))
    await expect(joinParts([one, await play(2)], '0')).rejects.toThrow('has other sites than')
  })
})
