import { createHash } from 'node:crypto'
import { existsSync, mkdtempSync, readFileSync, rmSync, unlinkSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { dirname, join } from 'node:path'
import { describe, expect, test } from 'vitest'
import { fleetFindings } from '../../src/fleet/findings/findings.ts'
import { joinParts, linesOf } from '../../src/fleet/join-parts.ts'
import { partBytes } from '../../src/fleet/part-file.ts'
import { type PartSettings, playPart } from '../../src/fleet/play-part.ts'
import { readFleetSource } from '../../src/fleet/sites/fleet-file.ts'
import { homeTemplate, siteTable, writeFleet, writeFolder } from './fleets.ts'

const TOOL = { name: 'lifetally', version: '0' }

function newFolder(): string {
  return mkdtempSync(join(tmpdir(), 'lifetally-parts-'))
}

function settings(more: Partial<PartSettings> = {}): PartSettings {
  return {
    seed: 3,
    draws: 20,
    threads: 1,
    part: 1,
    parts: 1,
    workFolder: newFolder(),
    resume: false,
    version: '0',
    command: 'lifetally fleet fleet.yaml',
    chunkSites: 8,
    saveEverySeconds: 0,
    now: () => 0,
    needFolder: () => {},
    ...more,
  }
}

/** fleet.json and sites.csv of a whole run. */
async function whole(path: string, more: Partial<PartSettings> = {}) {
  const played = await playPart(await readFleetSource(path, null), settings(more), () => {})
  return { json: JSON.stringify(fleetFindings(played, TOOL)), csv: readFileSync(played.sitesFile, 'utf8') }
}

/** Plays a part into a file, as the command does. */
async function partFile(path: string, folder: string, more: Partial<PartSettings>): Promise<string> {
  const asked = settings(more)
  const played = await playPart(await readFleetSource(path, null), asked, () => {})
  const file = join(folder, `${asked.seed}-${asked.part}-of-${asked.parts}.part`)
  writeFileSync(file, partBytes(played))
  writeFileSync(file.replace(/\.part$/, '.csv'), readFileSync(played.sitesFile))
  return file
}

async function joined(files: readonly string[]) {
  const fleet = await joinParts(files, '0')
  const csv: Uint8Array[] = []
  for await (const bytes of linesOf(fleet.sitesFiles)) csv.push(bytes)
  return { json: JSON.stringify(fleetFindings(fleet, TOOL)), csv: Buffer.concat(csv).toString() }
}

/** Seventy lines, among them a bad one and an id that occurs twice. */
const TABLE = `${siteTable(60)}s60,-4,3000,alder,maker-a\ns7,2,3000,alder,maker-a\n${siteTable(8, 61).split('\n').slice(1).join('\n')}`

/** Few years: most of the cost of a part is making its tables. */
const SHORT = homeTemplate({
  option: 'later: [{name: battery, year: {low: 1, high: 4}, chance: 40%, cost: 5000}]',
}).replace('horizon_years: 15', 'horizon_years: 6')

describe('F4: parts joined are one run, to the byte', () => {
  test.each([1, 2, 7, 24])('%i parts, joined in a mixed order', async parts => {
    const path = writeFleet(SHORT, TABLE)
    const folder = newFolder()
    const files: string[] = []
    for (let part = 1; part <= parts; part++) files.push(await partFile(path, folder, { part, parts, chunkSites: 5 }))
    const rank = (file: string) => createHash('md5').update(file.slice(folder.length)).digest('hex')
    const mixed = [...files].sort((a, b) => (rank(a) < rank(b) ? -1 : 1))
    expect(await joined(mixed)).toEqual(await whole(path))
  })

  test('a folder of scenarios too', async () => {
    const files = Object.fromEntries(
      Array.from({ length: 9 }, (_, i) => [`roof-${i}.yaml`, homeTemplate({ component: `age_years: ${i}` })]),
    )
    const path = writeFolder({ ...files, 'roof-x.yaml': 'title: nothing else' })
    const folder = newFolder()
    const second = await partFile(path, folder, { part: 2, parts: 2 })
    const first = await partFile(path, folder, { part: 1, parts: 2 })
    const one = await whole(path)
    expect(await joined([second, first])).toEqual(one)
    expect(one.csv).toContain('roof-x,no,')
    expect(JSON.parse(one.json).fleet).toMatchObject({ listed: 10, played: 9, leftOut: 1 })
  })

  // and threads: tests/cli/fleet.test.ts
  test('the size of a chunk changes no byte', async () => {
    const path = writeFleet(SHORT, TABLE)
    expect(await whole(path, { chunkSites: 11 })).toEqual(await whole(path))
  })
})

test('parts that do not make one fleet are refused: missing, doubled, other seed, sites, cut, version, damaged', async () => {
  const path = writeFleet(homeTemplate(), siteTable(20))
  const other = writeFleet(homeTemplate(), siteTable(21))
  const folder = newFolder()
  const one = await partFile(path, folder, { part: 1, parts: 2 })
  const two = await partFile(path, folder, { part: 2, parts: 2 })
  const seed = await partFile(path, folder, { part: 2, parts: 2, seed: 4 })
  const sites = await partFile(other, newFolder(), { part: 2, parts: 2 })
  const cut = await partFile(path, folder, { part: 2, parts: 3 })
  const fails = (files: string[], version = '0') =>
    joinParts(files, version).then(
      () => '',
      error => String(error.message),
    )
  expect(await fails([one])).toBe(`${one}\n  is one of 2 parts; missing: 2`)
  expect(await fails([one, two, one])).toBe(`${one}\n  is part 1, as is ${one}; give each part once`)
  expect(await fails([one, seed])).toBe(`${seed}\n  has another seed than ${one}; it belongs to another run`)
  expect(await fails([one, sites])).toBe(`${sites}\n  has other sites than ${one}; it belongs to another run`)
  expect(await fails([one, cut])).toBe(
    `${cut}\n  was cut into another number of parts than ${one}; it belongs to another run`,
  )
  expect(await fails([one, two], '1')).toBe(
    `${one}\n  was played by version 0; this is 1. Play it again, or join with that version`,
  )
  const lines = two.replace(/part$/, 'csv')
  const kept = readFileSync(lines)
  writeFileSync(lines, kept.subarray(0, -7))
  expect(await fails([one, two])).toBe(`${lines}\n  has the sites of ${two} and is not whole; play that part again`)
  rmSync(lines)
  expect(await fails([one, two])).toBe(`${lines}\n  has the sites of ${two} and is missing; play that part again`)
  writeFileSync(lines, kept)
  writeFileSync(two, readFileSync(two).subarray(0, -7))
  expect(await fails([one, two])).toBe(`${two}\n  this part is damaged or was not written to its end; play it again`)
  expect(await fails([path])).toContain('this is no part of a fleet')
  writeFileSync(two, 'lifetally fleet part 1\n{}\n')
  expect(await fails([two])).toContain('was played by version 0.1.0; this is 0')
  expect(await fails(['/dev/zero'])).toBe(
    '/dev/zero\n  this is a device; name a file, or write - to read standard input',
  )
  expect(await fails([folder])).toBe(`${folder}\n  this is a folder; name a file in it`)
})

describe('N8: damage of a part is found, wherever it is (nine of forty damaged parts used to be joined)', () => {
  test('any bit of the part, any bit of the lines of its sites', async () => {
    const path = writeFleet(SHORT, siteTable(4))
    const folder = newFolder()
    const one = await partFile(path, folder, { part: 1, parts: 1 })
    const lines = one.replace(/part$/, 'csv')
    await joinParts([one], '0')
    for (const [file, everyBytes] of [
      [one, 3],
      [lines, 1],
    ] as const) {
      const kept = readFileSync(file)
      for (let at = 0; at < kept.length; at += everyBytes) {
        const damaged = Buffer.from(kept)
        damaged[at] = (kept[at] ?? 0) ^ (1 << (at % 8))
        writeFileSync(file, damaged)
        const found = await joinParts([one], '0').then(
          () => `joined with byte ${at} of ${file} damaged`,
          error => String(error.message),
        )
        expect(found).toMatch(/damaged|was played by version|this is no part of a fleet/)
        expect(found).not.toContain('joined')
      }
      writeFileSync(file, kept)
    }
  }, 60_000)

  test('a part that was not played to its end is not joined, though it is whole', async () => {
    const path = writeFleet(SHORT, siteTable(4))
    const asked = settings()
    const played = await playPart(await readFleetSource(path, null), asked, () => {})
    const file = join(newFolder(), 'a.part')
    writeFileSync(file, partBytes({ ...played, head: { ...played.head, done: -1 } }))
    writeFileSync(file.replace(/part$/, 'csv'), readFileSync(played.sitesFile))
    await expect(joinParts([file], '0')).rejects.toThrow(`${file}\n  was not played to its end; play it again`)
  })
})

describe('F6: an interrupted run continues where it stopped', () => {
  test.each([1, 3, 6])('stopped after %i chunks', async stretches => {
    const path = writeFleet(homeTemplate(), TABLE)
    const source = await readFleetSource(path, null)
    const asked = settings()
    let told = 0
    const stopped = playPart(source, asked, () => {
      told += 1
      // the first call is that of the census
      if (told > stretches + 1) throw new Error('stopped')
    })
    await expect(stopped).rejects.toThrow('stopped')
    // half a line of a chunk that was not saved
    writeFileSync(join(asked.workFolder, 'part-1-of-1.csv'), 'half a line', { flag: 'a' })
    let first = Number.NaN
    const played = await playPart(source, { ...asked, resume: true }, share => {
      if (share > 0.03 && Number.isNaN(first)) first = share
    })
    expect(first).toBeGreaterThan((stretches * 8) / 70)
    const one = await whole(path)
    expect(JSON.stringify(fleetFindings(played, TOOL))).toBe(one.json)
    expect(readFileSync(played.sitesFile, 'utf8')).toBe(one.csv)
    await played.forget()
    expect(existsSync(asked.workFolder)).toBe(false)
  })

  test.each(['lost', 'cut short', 'damaged'])(
    'begins anew where the lines of its sites are %s, as after a power cut',
    async how => {
      const path = writeFleet(SHORT, siteTable(20))
      const source = await readFleetSource(path, null)
      const asked = settings()
      const { sitesFile } = await playPart(source, asked, () => {})
      if (how === 'lost') rmSync(sitesFile)
      else if (how === 'cut short') writeFileSync(sitesFile, readFileSync(sitesFile).subarray(0, 300))
      else writeFileSync(sitesFile, readFileSync(sitesFile, 'utf8').replace('alder', 'older'))
      const again = await playPart(source, { ...asked, resume: true }, () => {})
      const one = await whole(path)
      expect(JSON.stringify(fleetFindings(again, TOOL))).toBe(one.json)
      expect(readFileSync(sitesFile, 'utf8')).toBe(one.csv)
    },
  )

  test('a damaged state is not continued', async () => {
    const source = await readFleetSource(writeFleet(homeTemplate(), siteTable(20)), null)
    const asked = settings()
    await playPart(source, asked, () => {})
    const state = join(asked.workFolder, 'part-1-of-1.state')
    writeFileSync(state, readFileSync(state, 'latin1').replace('"seed":3', '"seed":4'), 'latin1')
    await expect(playPart(source, { ...asked, resume: true, seed: 4 }, () => {})).rejects.toThrow(
      'cannot be used (this part is damaged or was not written to its end; play it again); leave --resume out to start again',
    )
  })

  test('what another run kept is not continued', async () => {
    const source = await readFleetSource(writeFleet(homeTemplate(), siteTable(20)), null)
    const asked = settings()
    await playPart(source, asked, () => {})
    await expect(playPart(source, { ...asked, resume: true, seed: 9 }, () => {})).rejects.toThrow(
      'belongs to another run (other sites, seed, draws or version); leave --resume out to start again',
    )
  })
})

describe('F5: sites that cannot be played are left out, with their reason', () => {
  test('bad cells, ids that occur twice, models and providers given in two ways', async () => {
    const table = [
      'id,age_years,annual_kwh,model,provider,tier,exit',
      'a,1,3000,alder,maker-a,plain,',
      'b,old,3000,alder,maker-a,plain,',
      'c,1,0,alder,maker-a,plain,',
      'a,1,3000,alder,maker-a,plain,',
      'd,1,3000,alder,maker-a,robust,',
      'e,1,3000,birch,maker-a,plain,9%',
      ',1,3000,alder,maker-a,plain,',
      'f,1,3000,alder,maker-a,golden,',
      'g,2,3100,alder,maker-b,plain,',
      '',
    ].join('\n')
    const path = writeFleet(homeTemplate(), table, 'columns: {exit: warranty_provider.exit_rate_per_year}\n')
    const { json, csv } = await whole(path)
    const { fleet, leftOut } = JSON.parse(json)
    expect(fleet).toMatchObject({ listed: 9, played: 2, leftOut: 7 })
    expect(Object.fromEntries(leftOut.map((one: { line: number; reason: string }) => [one.line, one.reason]))).toEqual({
      3: 'age_years: found "old"; allowed: a number from 0 to 100 years',
      4: expect.stringContaining('annual_kwh: found 0; allowed:'),
      5: 'the id "a" is in an earlier line too',
      6: 'model "alder" is given differently in an earlier site: kind, tier, failure and successor must agree',
      7: '"maker-a" has another exit rate in an earlier site; one provider has one rate',
      8: 'the site has no id',
      9: expect.stringContaining('tier: found "golden"; allowed: one of budget, plain, robust'),
    })
    expect(csv.split('\n').filter(line => line.includes(',no,'))).toHaveLength(7)
  })

  test('a scenario file that vanishes while the fleet is played', async () => {
    const path = writeFolder(
      Object.fromEntries(Array.from({ length: 6 }, (_, i) => [`roof-${i}.yaml`, homeTemplate()])),
    )
    const played = await playPart(await readFleetSource(path, null), settings({ chunkSites: 2 }), share => {
      if (share > 0.3 && existsSync(join(path, 'roof-5.yaml'))) unlinkSync(join(path, 'roof-5.yaml'))
    })
    expect(fleetFindings(played, TOOL)).toMatchObject({
      fleet: { played: 5, leftOut: 1 },
      leftOut: [{ id: 'roof-5', reason: 'the file cannot be read; is it gone?' }],
    })
  })

  test('a table that changes or vanishes while it is played ends the run with a message', async () => {
    const path = writeFleet(homeTemplate(), siteTable(30))
    const table = join(dirname(path), 'sites.csv')
    const source = await readFleetSource(path, null)
    const changed = playPart(source, settings(), share => {
      if (share > 0.9) writeFileSync(table, siteTable(40))
    })
    await expect(changed).rejects.toThrow(
      'sites.csv\n  the sites were changed while they were played; play the fleet again',
    )
    rmSync(table)
    await expect(playPart(source, settings(), () => {})).rejects.toThrow(
      'sites.csv\n  there is no such file; check the name',
    )
  })
})
