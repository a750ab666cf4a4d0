import { existsSync, mkdtempSync, readFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { describe, expect, test } from 'vitest'
import { firstSite } from '../../src/fleet/findings/sites-csv.ts'
import { factsOf } from '../../src/fleet/fleet-facts.ts'
import { takeCensus } from '../../src/fleet/sites/census.ts'
import { readFleetSource } from '../../src/fleet/sites/fleet-file.ts'
import { isRead, type LeftOut, type ReadSite, SiteReader } from '../../src/fleet/sites/site-reader.ts'
import { run } from '../cli/run.ts'
import { homeTemplate, opened, writeFleet } from './fleets.ts'

/** A template with three options of which none is named in the fleet file. */
const MIXED = `
horizon_years: 10
start: 2027-03
prices_from_evidence: {factor: 0.92}
site:
  panels: 20
  generation: {monthly_kwh: [310, 440, 700, 850, 960, 980, 1000, 900, 720, 500, 330, 260]}
  energy_value: {import_price_per_kwh: 0.3, export_price_per_kwh: 0.08}
options:
  - {name: Plain, topology: string, upfront_cost: 6900, warranty: {years: 10}}
  - {name: Units, topology: panel-level, upfront_cost: 9400, components: [{kind: panel-level-unit}, {kind: gateway}]}
  - {name: One box, topology: hybrid, upfront_cost: 11800}
`

async function sitesOf(template: string, table: string, more = ''): Promise<(ReadSite | LeftOut)[]> {
  const { census, tickets } = await opened(writeFleet(template, table, more), 20)
  const reader = new SiteReader(census.frame.form)
  return tickets.map(ticket => reader.read(ticket))
}

const agesOf = (site: ReadSite | LeftOut): readonly number[] | string => (isRead(site) ? site.ages : site.reason)
const optionOf = (site: ReadSite | LeftOut): string => (isRead(site) ? site.siteClass.option.name : site.reason)

async function faultOf(template: string, table: string, more = ''): Promise<string> {
  return opened(writeFleet(template, table, more), 20).then(
    () => '',
    (error: Error) => error.message,
  )
}

describe('F7a: install_date gives the age at the start', () => {
  const dates = 'id,install_date\na,2017-03-01\nb,2017-03\nc,2017\nd,2027-03-20\ne,2027-05-01\nf,soon\ng,1890-01-01\n'

  test('dates, months and years, counted to the first day of the start', async () => {
    const sites = await sitesOf(homeTemplate({ head: 'start: 2027-03' }), dates)
    const ages = sites.map(agesOf)
    expect(ages[0]?.[0]).toBeCloseTo(10 + 2 / 365, 9) // two leap days
    expect(ages[1]?.[0]).toBeCloseTo(10 - 12 / 365, 9)
    expect(ages[2]?.[0]).toBeCloseTo(9.67, 2)
    expect(ages[3]).toEqual([0])
    expect(ages.slice(4)).toEqual([
      'install_date: 2027-05-01 is after the start, 2027-03: the unit is not installed yet',
      'install_date: found "soon"; allowed: a date like 2016-05-30, or in the order of the column (day-month); a month like 2016-05; or a year',
      expect.stringContaining('install_date: found "1890-01-01"'),
    ])
  })

  test('dates as people write them; the order of day and month as the column or the fleet file says', async () => {
    const head = homeTemplate({ head: 'start: 2027-03' })
    const written = ['01/03/2017', '1 Mar 2017', '20170301', '2017-03-01', '25/03/2017']
    const table = `id,install_date\n${written.map((date, i) => `s${i},${date}`).join('\n')}\n`
    const first = (await sitesOf(head, table)).map(site => agesOf(site)[0])
    expect(new Set(first.slice(0, 4)).size).toBe(1)
    expect(first[0]).toBeCloseTo(10 + 2 / 365, 9)
    const american = (await sitesOf(head, 'id,install_date\na,03/01/2017\nb,3/25/2017\n')).map(site => agesOf(site)[0])
    expect(american[0]).toBeCloseTo(10 + 2 / 365, 9)
    const open = 'id,install_date\na,01/03/2017\n'
    expect(await faultOf(head, open)).toBe(
      'sites.csv:2  install_date\n  "01/03/2017" may be day-month or month-day, and no date of the column decides it; set  date_order: day-month  or  month-day  in the fleet file',
    )
    const chosen = await sitesOf(head, open, 'date_order: month-day\n')
    expect(agesOf(chosen[0] as ReadSite)[0]).toBeCloseTo(10 + 59 / 365, 2)
    expect(await faultOf(head, 'id,install_date\na,25/03/2017\nb,03/25/2017\n')).toContain('has the day first')
  })

  test('the start of the fleet file takes precedence over that of the template; without one the column is an error', async () => {
    const [site] = await sitesOf(homeTemplate({ head: 'start: 2027-03' }), dates, 'start: 2019-03\n')
    expect(site === undefined ? '' : agesOf(site)).toEqual([expect.closeTo(2, 9)])
    expect(await faultOf(homeTemplate(), dates)).toContain(
      'the column "install_date" is counted to a start; add  start: 2027-03  (the month you plan from)',
    )
    expect(
      await faultOf(homeTemplate({ head: 'start: 2027-03' }), 'id,age_years,install_date\na,1,2020-01-01\n'),
    ).toContain('columns "age_years" and "install_date" both fill "components.0.age_years"')
  })

  test('it holds for every component that has no age of its own, under a header of the owner too', async () => {
    const table = 'id,option,Inbetriebnahme\na,Units,2017-03-01\nb,Plain,2017-03-01\n'
    const sites = await sitesOf(MIXED, table, 'columns: {Inbetriebnahme: install_date}\n')
    expect(sites.map(site => agesOf(site).length)).toEqual([2, 1])
    for (const site of sites) for (const age of agesOf(site)) expect(age).toBeCloseTo(10 + 2 / 365, 9)
    const own = await sitesOf(
      MIXED.replace('{kind: gateway}', '{kind: gateway, age_years: 1}'),
      'id,option,age_years\na,Units,7\n',
    )
    expect(own.map(agesOf)).toEqual([[7, 1]])
  })
})

describe('F7a: ages that are not known', () => {
  const table = 'id,age_years\na,2\nb,\nc,9\nd,unknown\ne,4\n'

  test.each([
    ['', [2, 4, 9, 4, 4], 'as old as the others with their option (the median)'],
    ['age_unknown: as-the-others\n', [2, 4, 9, 4, 4], 'as old as the others with their option (the median)'],
    ['age_unknown: new\n', [2, 0, 9, 0, 4], 'new'],
  ])('%j: taken so, counted, and said', async (more, ages, takenAs) => {
    const path = writeFleet(homeTemplate(), table, more)
    const source = await readFleetSource(path, null)
    const census = await takeCensus(source, 1, 20)
    expect(census.unknownAges).toEqual({ sites: 2, takenAs })
    expect(factsOf(source, census, '').unknownAges).toEqual({ sites: 2, takenAs })
    expect((await sitesOf(homeTemplate(), table, more)).map(site => agesOf(site)[0])).toEqual(ages)
  })

  test('refuse: the run stops and names the lines', async () => {
    expect(await faultOf(homeTemplate(), table, 'age_unknown: refuse\n')).toBe(
      'sites.csv:3\n  2 sites have nothing in "age_years" (lines 3, 5); fill in the ages, or set  age_unknown: as-the-others  or  new  in the fleet file',
    )
    expect(await faultOf(homeTemplate(), table, 'age_unknown: old\n')).toContain('as-the-others, new, refuse')
  })

  test('the median is that of the sites with the same option', async () => {
    const sites = await sitesOf(MIXED, 'id,option,age_years\na,Plain,10\nb,Plain,\nc,Units,3\nd,Units,\ne,One box,\n')
    expect(sites.map(site => agesOf(site)[0])).toEqual([10, 10, 3, 3, 0])
  })
})

test('N8: parts of a table with all of it, joined, are one run, to the byte', () => {
  const lines = Array.from({ length: 40 }, (_, i) => {
    const date = i % 5 === 0 ? '' : `${2010 + (i % 12)}-0${1 + (i % 9)}-1${i % 10}`
    return `r${i},${['Plain', 'units', 'One box'][i % 3]},${date},Street ${i},${i % 2 === 0 ? 'm-even' : ''}`
  })
  const table = ['id,option,install_date,address,model', ...lines, 'bad,nothing,2011,x,', ''].join('\n')
  const template = MIXED.replace('horizon_years: 10', 'horizon_years: 6').replace(
    /components: .*/,
    'components: [{kind: panel-level-unit}]}',
  )
  const fleet = writeFleet(template.replace('topology: hybrid', 'topology: string'), table, 'ignore: [address]\n')
  const folder = mkdtempSync(join(tmpdir(), 'lifetally-all-'))
  const play = (...more: string[]) => run(['fleet', fleet, '--draws', '20', '--quiet', ...more])
  for (const part of ['1/3', '2/3', '3/3'])
    expect([0, 3]).toContain(play('--part', part, '--out', join(folder, 'parts')).code)
  expect(run(['join', join(folder, 'parts'), '--quiet', '--out', join(folder, 'joined')]).code).toBe(3)
  const whole = play('--threads', '2', '--out', join(folder, 'whole'))
  expect(whole.code).toBe(3)
  for (const name of ['fleet.json', 'fleet.html', 'sites.csv', 'years.csv', 'reserve.xlsx', 'sheet.html'])
    expect(readFileSync(join(folder, 'joined', name)).equals(readFileSync(join(folder, 'whole', name))), name).toBe(
      true,
    )
  const { fleet: about, firstSites } = JSON.parse(readFileSync(join(folder, 'whole', 'fleet.json'), 'utf8'))
  expect(about.played).toBeGreaterThan(10)
  expect(about.unknownAges.sites).toBe(8)
  expect(firstSites).toHaveLength(10)
}, 120_000)

describe('F7a: mixed designs', () => {
  test('a column option names the option, in any case; what it does not know is left out with what there is', async () => {
    const table = 'id,option\na,Plain\nb,units\nc,One box\nd,One bix\ne,\n'
    expect((await sitesOf(MIXED, table)).map(optionOf)).toEqual([
      'Plain',
      'Units',
      'One box',
      'found "One bix"; did you mean "One box"?',
      'no option is named; template.yaml has "Plain", "Units", "One box"',
    ])
    expect((await sitesOf(MIXED, table, 'option: Units\n')).map(optionOf).at(-1)).toBe('Units')
  })

  test('a column topology is enough where each option has its own', async () => {
    const table = 'id,topology\na,string\nb,Panel level\nc,hybrid\nd,optimisers\n'
    expect((await sitesOf(MIXED, table)).map(optionOf)).toEqual([
      'Plain',
      'Units',
      'One box',
      'found "optimisers"; the options of template.yaml have "string", "panel-level", "hybrid"',
    ])
    const two = MIXED.replace('topology: hybrid', 'topology: string')
    expect((await sitesOf(two, 'id,topology\na,string\nb,panel-level\n')).map(optionOf)).toEqual([
      'template.yaml has several options with topology string; name one in a column "option"',
      'Units',
    ])
  })

  test('without such a column and without an option in the fleet file the run stops', async () => {
    expect(await faultOf(MIXED, 'id,age_years\na,3\n')).toMatch(
      /fleet\.yaml {2}option\n {2}missing; template\.yaml has several options: name the one on the roofs, or give the table a column "option"$/,
    )
  })

  test('a value for a component that only some options have is left out where it has no place', async () => {
    const table = 'id,option,gateway\na,Units,4\nb,Plain,\nc,Plain,4\n'
    const sites = await sitesOf(MIXED, table, 'columns: {gateway: components.1.age_years}\n')
    expect(sites.map(agesOf)).toEqual([
      [0, 4],
      [0],
      'column "gateway" fills "components.1.age_years", but "components" of the template has one entry, number 0',
    ])
  })

  test('models and makers without a name are called by what they are, in no output by their option and place', async () => {
    const sites = await sitesOf(
      MIXED,
      'id,option,tier,model,provider\na,Plain,,,\nb,Plain,robust,,\nc,Units,,m7,maker-c\n',
    )
    expect(
      sites.map(site =>
        isRead(site) ? [site.siteClass.leadModel, site.siteClass.option.warrantyProvider.name] : site.reason,
      ),
    ).toEqual([
      ['Plain: string inverter', 'maker without a name (Plain)'],
      ['Plain: string inverter, robust', 'maker without a name, robust (Plain)'],
      ['m7', 'maker-c'],
    ])
    const out = mkdtempSync(join(tmpdir(), 'lifetally-mixed-'))
    const bare = homeTemplate()
      .replace('model: alder', '')
      .replace('name: maker-a, ', '')
      .replace('name: installer-a, ', '')
    const { code } = run([
      'fleet',
      writeFleet(bare, 'id,age_years\na,4\nb,9\n'),
      '--draws',
      '20',
      '--quiet',
      '--out',
      out,
    ])
    expect(code).toBe(0)
    for (const name of ['fleet.json', 'sites.csv', 'fleet.html']) {
      expect(existsSync(join(out, name))).toBe(true)
      expect(readFileSync(join(out, name), 'utf8')).not.toMatch(/As built \/ 0|(maker|installer) of As built/)
    }
    expect(readFileSync(join(out, 'sites.csv'), 'utf8')).toContain('string inverter,maker without a name')
  })
})

describe('F7a: roofs that are given up', () => {
  const head = homeTemplate({ head: 'start: 2027-03' })
  const table =
    'id,install_date,retired\na,2017-03-01,\nb,2000-03-01,15/06/2019\nc,2019-03-01,31/12/2030\nd,2019-03-01,soon\ne,,-\n'

  // they used to be planned for, and to make the others look older
  test('by the start: left out with the reason, and no age for others', async () => {
    const sites = await sitesOf(head, table)
    expect(sites.map(agesOf)).toEqual([
      [expect.closeTo(10 + 2 / 365, 9)],
      'retired on 15/06/2019, before the start, 2027-03',
      [expect.closeTo(8 + 2 / 365, 9)],
      expect.stringContaining('retired: found "soon"; allowed: a date like 2016-05-30'),
      [expect.closeTo(8.005, 9)],
    ])
    const { census } = await opened(writeFleet(head, table), 20)
    expect(census.unknownAges.sites).toBe(1)
  })

  test('under a header of the owner, without dates of installation too; a start is needed', async () => {
    const german = 'id;age_years;Stillgelegt am\na;3;\nb;4;13.02.2020\n'
    const columns = 'columns: {Stillgelegt am: retired}\n'
    expect((await sitesOf(head, german, columns)).map(agesOf)).toEqual([
      [3],
      'retired on 13.02.2020, before the start, 2027-03',
    ])
    expect(await faultOf(homeTemplate(), german, columns)).toContain(
      'the column "Stillgelegt am" is counted to a start; add',
    )
  })
})

// the error used to name the model alone, where a price that its roofs need was missing in the template
test('records of a model whose sites are all left out: the error says for what', async () => {
  const table = 'id,option,model\na,Plain,larch\nb,Units,ash-3\nc,Units,ash-3\n'
  const priced = MIXED.replace('prices_from_evidence: {factor: 0.92}', 'visit: {call_out: 100}').replace(
    'warranty: {years: 10}}',
    'components: [{kind: string-inverter, replacement: {parts: 900, labour: 200}}]}',
  )
  const fit = join(import.meta.dirname, '../../examples/owner/fit.json')
  const fault = await faultOf(priced, table, `records: {ash-3: "${fit}"}\n`)
  expect(fault).toContain(
    'no site that can be played has the model "ash-3"; the models of the sites are larch; 2 sites are left out: ',
  )
  expect(fault).toContain('missing; typical is')
})

// a contract of 1,500 a year put a roof first, but 'why' used to name its age and cover alone
test('why a roof comes early names what it costs whatever fails', async () => {
  const sites = await sitesOf(homeTemplate(), 'id,upkeep\na,1500\nb,0\n', 'columns: {upkeep: yearly_cost}\n')
  const soon = { chance: 0.1, cash: 100 }
  const figures = {
    next: soon,
    nextFive: soon,
    cash: 0,
    cash90: 0,
    contribution: 0,
    failures: 0,
    lostKwh: 0,
    variance: 0n,
  }
  const [upkeep, none] = sites.map(site => (isRead(site) ? firstSite(site, figures).why : site.reason))
  expect(upkeep).toContain(', 1500 a year in any case; a failure costs about ')
  expect(none).not.toContain('a year whatever fails')
})

describe('F7a: figures as tables have them', () => {
  const kwOf = (site: ReadSite | LeftOut): number | string | null | undefined =>
    isRead(site) ? site.siteClass.option.populations[0]?.acKw : site.reason
  const partsOf = (site: ReadSite | LeftOut): unknown =>
    isRead(site) ? site.siteClass.option.populations[0]?.prices.parts : site.reason

  // 1.500 used to be read as one and a half, silently
  test('a figure that may be one or a thousand times as much is an error that names both', async () => {
    expect(await faultOf(homeTemplate(), 'id,parts\na,900\nb,1.500\n')).toBe(
      'sites.csv:3  parts\n  "1.500" may be 1.5 or 1500, and no other figure decides it; write 1.5 or 1500, and so in the whole column',
    )
    expect(await faultOf(homeTemplate(), 'id;parts\na;900\nb;1,500\n')).toContain('"1,500" may be 1.5 or 1500')
    // both ways in one column
    expect(await faultOf(homeTemplate(), 'id;parts\na;900,50\nb;800.5\nc;1.500\n')).toContain('"1.500" may be')
  })

  test('the column decides it', async () => {
    const parts = async (...cells: readonly string[]) =>
      (await sitesOf(homeTemplate(), ['id;parts', ...cells.map((cell, i) => `s${i};${cell}`), ''].join('\n'))).map(
        partsOf,
      )
    expect(await parts('1.500', '1.500,00')).toEqual([1500, 1500])
    expect(await parts('1.500', '12.345.678')).toEqual([1500, 12_345_678])
    expect(await parts('1,500', '1,250.75')).toEqual([1500, 1250.75])
    expect(await parts('1.500', '2.25', '0.125')).toEqual([1.5, 2.25, 0.125])
    expect(await parts('1,500', '2,25')).toEqual([1.5, 2.25])
  })

  test('else the other columns; no age has thousands', async () => {
    const german = await sitesOf(homeTemplate(), 'id;ac_kw;parts;age_years\na;5,0;1.500;7,125\n')
    expect([german.map(kwOf), german.map(partsOf), german.map(agesOf)]).toEqual([[5], [1500], [[7.125]]])
    const plain = await sitesOf(homeTemplate(), 'id,ac_kw,age_years\na,4.600,7.125\n')
    expect([plain.map(kwOf), plain.map(agesOf)]).toEqual([[4.6], [[7.125]]])
  })

  test('shares too', async () => {
    const column = 'components.0.warranty.claim_success'
    const sites = await sitesOf(homeTemplate(), `id;share\na;87,5 %\n`, `columns: {share: ${column}}\n`)
    expect(sites.map(site => (isRead(site) ? site.siteClass.option.populations[0]?.warranty.claimSuccess : 0))).toEqual(
      [0.875],
    )
  })
})
