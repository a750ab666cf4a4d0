/** Small fleets on disk, and how to play them, for the tests of fleets. */
import { mkdtempSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { ChunkPlayer, type ChunkResult } from '../../src/fleet/play/chunk.ts'
import { type Census, takeCensus } from '../../src/fleet/sites/census.ts'
import { readFleetSource } from '../../src/fleet/sites/fleet-file.ts'
import { columnsOfTable, type SiteTicket, streamSites } from '../../src/fleet/sites/site-stream.ts'

/** Template of homes with one string inverter; takes further lines for component, option and head. */
export function homeTemplate({ component = '', option = '', head = '' } = {}): string {
  return `title: Home
horizon_years: 15
${head}
site:
  generation: {monthly_kwh: [100, 160, 300, 390, 450, 460, 470, 410, 300, 190, 120, 90], degradation: 0.5%}
  energy_value: {import_price_per_kwh: 0.3, export_price_per_kwh: 0.08}
visit: {call_out: 80, roof_access: 45, labour_growth: 1%}
options:
  - name: As built
    topology: string
    upfront_cost: 0
    components:
      - kind: string-inverter
        model: alder
        replacement: {parts: {low: 600, high: 1000}, labour: 180, parts_growth: -2%}
        warranty: {years: 6, labour_years: 2}
        ${component}
    warranty_provider: {name: maker-a, exit_rate_per_year: {low: 2%, high: 6%}}
    labour_provider: {name: installer-a, exit_rate_per_year: 4%}
    ${option}
`
}

/** Homes that share nothing: no spread of models, no batch, no exits, no ranges. */
export function apartTemplate(): string {
  return homeTemplate({
    component: 'failure: {shape: 2, characteristic_life_years: 9, model_spread: 0, bad_batch: {chance: 0%}}',
  })
    .replace('{low: 600, high: 1000}', '800')
    .replace('labour_years: 2', 'labour_years: 2, claim_success: 90%')
    .replace('{low: 2%, high: 6%}', '0%')
    .replace('exit_rate_per_year: 4%', 'exit_rate_per_year: 0%')
    .replace('export_price_per_kwh: 0.08', 'export_price_per_kwh: 0.08, self_consumed: 30%')
}

/** Sites with ages, yields, two models and two makers in turn. */
export function siteTable(sites: number, from = 0): string {
  const rows = Array.from({ length: sites }, (_, i) => {
    const n = from + i
    return `s${n},${(n % 7) * 1.5},${2500 + 100 * (n % 9)},${n % 3 === 0 ? 'birch' : 'alder'},${n % 2 === 0 ? 'maker-a' : 'maker-b'}`
  })
  return ['id,age_years,annual_kwh,model,provider', ...rows, ''].join('\n')
}

/** Writes files into a new folder and gives its path. */
export function writeFolder(files: Readonly<Record<string, string>>): string {
  const folder = mkdtempSync(join(tmpdir(), 'lifetally-fleet-'))
  for (const [name, content] of Object.entries(files)) writeFileSync(join(folder, name), content)
  return folder
}

/** Writes a fleet into a new folder and gives the path of its file. */
export function writeFleet(template: string, table: string, more = ''): string {
  const fleet = `title: Test\ntemplate: template.yaml\nsites: sites.csv\n${more}`
  return join(writeFolder({ 'template.yaml': template, 'sites.csv': table, 'fleet.yaml': fleet }), 'fleet.yaml')
}

/** The census of a fleet and all its sites, unread. */
export async function opened(
  path: string,
  draws: number,
  seed = 1,
): Promise<{ readonly census: Census; readonly tickets: SiteTicket[] }> {
  const source = await readFleetSource(path, null)
  const census = await takeCensus(source, seed, draws)
  const tickets: SiteTicket[] = []
  for await (const ticket of streamSites(source, await columnsOfTable(source))) tickets.push(ticket)
  return { census, tickets }
}

/** Plays all sites of a fleet as one chunk. */
export async function playedChunk(path: string, draws: number): Promise<ChunkResult> {
  const { census, tickets } = await opened(path, draws)
  return new ChunkPlayer(census.frame).play(tickets)
}
