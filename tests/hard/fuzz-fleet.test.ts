import { mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import fc from 'fast-check'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { parse } from 'yaml'
import { runFleet } from '../../src/cli/commands/run-fleet.ts'
import { fleetFindings } from '../../src/fleet/findings/findings.ts'
import { playPart } from '../../src/fleet/play-part.ts'
import { readFleetSource } from '../../src/fleet/sites/fleet-file.ts'
import { homeTemplate, siteTable } from '../fleet/fleets.ts'
import { FuzzRun, LONG } from './fuzz-run.ts'
import { anyEdit, anySlip, edited, type Tree } from './mutate.ts'
import { hasMarkup, needWhole } from './play-case.ts'
import { QUOTES } from './quotes.ts'

const fuzz = new FuzzRun('fleets')

let folder: string
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'lifetally-fuzz-fleet-'))
})
afterAll(() => rmSync(folder, { recursive: true, force: true }))

/** The files of one fleet. */
interface FleetCase {
  readonly fleet: string
  readonly template: string
  readonly sites: string
}

const TEMPLATES: readonly string[] = [
  homeTemplate().replace('horizon_years: 15', 'horizon_years: 6'),
  homeTemplate({ component: 'failure: {shape: 2, b10_years: 5, none_failed_so_far: true}' }),
  ...QUOTES,
]
const OPTIONS: readonly string[] = ['As built', 'As built', 'Budget', 'One box', 'Behind each panel']

const cell = fc.oneof(
  { weight: 4, arbitrary: fc.double({ min: 0, max: 40, noNaN: true }).map(age => age.toFixed(1)) },
  {
    weight: 1,
    arbitrary: fc.constantFrom(
      ...['', '', '0', '-1', '1e-300', '1e300', 'NaN', '12%', '1,5', '"a, b"', '=1+1', '{low: 1}', 'true', '\u202e<b>'],
    ),
  },
)
const column = fc.constantFrom(
  ...['age_years', 'ac_kw', 'count', 'model', 'tier', 'provider', 'installer', 'warranty_years', 'labour_years'],
  ...['parts', 'labour', 'annual_kwh', 'panels', 'call_out', 'yearly_cost', 'visit.roof_access', 'monitoring', 'note'],
  ...['components.0.downtime.repair_days', 'components.9.age_years', 'discount_rate', '__proto__.x', 'tier_effect'],
)
const id = fc.oneof(
  { weight: 9, arbitrary: fc.nat(9999).map(String) },
  { weight: 1, arbitrary: fc.constantFrom('', 'a', 'a', '../../x', '<script>', '=1', '👩‍👩‍👧') },
)
/** Tables whose columns are often right and whose cells are mostly so. */
const table = fc
  .uniqueArray(column, { minLength: 0, maxLength: 5 })
  .chain(columns =>
    fc
      .array(fc.tuple(id, ...columns.map(() => cell)), { minLength: 1, maxLength: 12 })
      .map(rows => [['id', ...columns].join(','), ...rows.map(row => row.join(','))].join('\n')),
  )

const template = fc.nat(TEMPLATES.length - 1)
const words = (at: number, more = '') =>
  `title: T\ntemplate: template.yaml\noption: ${OPTIONS[at] ?? ''}\nsites: sites.csv\n${more}`

/** Every number of results must be finite; JSON would write null. */
function needFinite(value: unknown, path: string): void {
  if (typeof value === 'number' && !Number.isFinite(value)) throw new Error(`a broken figure: ${path} is ${value}`)
  if (typeof value !== 'object' || value === null) return
  for (const [key, below] of Object.entries(value)) needFinite(below, `${path}.${key}`)
}

/** Plays a fleet through the command, looks at every file, and now and then at the bare figures. */
async function playFleet(files: FleetCase, looksInside: boolean): Promise<string> {
  const place = join(folder, 'case')
  rmSync(place, { recursive: true, force: true })
  mkdirSync(place)
  writeFileSync(join(place, 'fleet.yaml'), files.fleet)
  writeFileSync(join(place, 'template.yaml'), files.template)
  writeFileSync(join(place, 'sites.csv'), files.sites)
  const path = join(place, 'fleet.yaml')
  const out = join(place, 'out')
  const refused = await runFleet(path, { draws: '20', threads: '1', out, quiet: true }).then(
    () => null,
    (error: unknown) => ({ error }),
  )
  process.exitCode = 0
  const left = [...readdirSync(folder), ...readdirSync(place).filter(name => name !== 'out')]
  if (left.join() !== 'case,fleet.yaml,sites.csv,template.yaml') throw new Error(`files outside --out: ${left}`)
  if (refused !== null) throw refused.error
  expect(readdirSync(out).sort()).toEqual([
    'fleet.html',
    'fleet.json',
    'reserve.xlsx',
    'sheet.html',
    'sites.csv',
    'years.csv',
  ])
  const html = readFileSync(join(out, 'fleet.html'), 'utf8').replace(/<style>.*?<\/style>/gs, '')
  const given = files.sites + files.template + files.fleet
  needWhole(html, given)
  if (hasMarkup(html)) throw new Error('a name became markup')
  const lines = readFileSync(join(out, 'sites.csv'), 'utf8')
  if (/,(NaN|-?Infinity|undefined),/.test(lines) && !/NaN|Infinity|undefined/.test(given))
    throw new Error(`a broken figure in sites.csv: ${lines}`)
  if (looksInside) await lookInside(path, join(place, 'work'))
  const { fleet } = JSON.parse(readFileSync(join(out, 'fleet.json'), 'utf8'))
  return fleet.leftOut > 0 ? (fleet.played > 0 ? 'some left out' : 'all left out') : 'played'
}

async function lookInside(path: string, workFolder: string): Promise<void> {
  const source = await readFleetSource(path, null)
  const played = await playPart(
    source,
    {
      seed: 1,
      draws: 20,
      threads: 1,
      part: 1,
      parts: 1,
      workFolder,
      resume: false,
      version: '0',
      command: '',
      chunkSites: 5,
      saveEverySeconds: 1,
      now: () => 0,
      needFolder: () => {},
    },
    () => {},
  )
  needFinite(fleetFindings(played, { name: 'lifetally', version: '0' }), 'fleet')
}

const run = (files: FleetCase, told: string, index: number) =>
  fuzz.try(`${files.fleet}\n${files.template}\n${files.sites}`, told, () => playFleet(files, index % 2 === 0))

describe('no fleet breaks the program: a message, a site left out with its reason, or finite figures', () => {
  test('tables of any columns and cells', LONG, async () => {
    let index = 0
    await fc.assert(
      fc.asyncProperty(template, table, async (at, sites) =>
        run({ fleet: words(at), template: TEMPLATES[at] ?? '', sites }, 'table', index++),
      ),
      fuzz.settings(6),
    )
    expect((fuzz.ended.played ?? 0) + (fuzz.ended['some left out'] ?? 0)).toBeGreaterThan(0)
  })

  test('templates with one or two changed values, real sites', LONG, async () => {
    let index = 0
    await fc.assert(
      fc.asyncProperty(template, fc.array(anyEdit, { minLength: 1, maxLength: 2 }), async (at, edits) => {
        const tree = parse(TEMPLATES[at] ?? '') as Tree
        const changed = JSON.stringify(edits.reduce(edited, tree))
        const told = edits.map(edit => edit.told).join(' | ')
        await run({ fleet: words(at), template: changed, sites: siteTable(6) }, told, index++)
      }),
      fuzz.settings(4),
    )
  })

  test('typing errors in the fleet file and in the table', LONG, async () => {
    let index = 0
    await fc.assert(
      fc.asyncProperty(anySlip, fc.boolean(), async (slip, inTable) => {
        const fleet = words(0, 'columns: {note: null, warranty: components.0.warranty.years}\n')
        const sites = siteTable(8)
          .split('\n')
          .map((line, at) => (line === '' ? '' : at === 0 ? `${line},note,warranty` : `${line},x,${at}`))
          .join('\n')
        const files = { fleet, template: TEMPLATES[0] ?? '', sites }
        const slipped = inTable ? { ...files, sites: slip(sites) } : { ...files, fleet: slip(fleet) }
        await run(slipped, inTable ? 'slip in the table' : 'slip in the fleet file', index++)
      }),
      fuzz.settings(2),
    )
  })
})
