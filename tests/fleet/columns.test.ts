import { mkdtempSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { describe, expect, test } from 'vitest'
import { readFleetSource } from '../../src/fleet/sites/fleet-file.ts'
import { columnsOfTable } from '../../src/fleet/sites/site-stream.ts'
import { homeTemplate, opened, playedChunk, siteTable, writeFleet, writeFolder } from './fleets.ts'

/** What is wrong with the header of a fleet, or the columns that it ignores. */
async function planned(table: string, more = '', template = homeTemplate()): Promise<string> {
  const source = await readFleetSource(writeFleet(template, table, more), null)
  return columnsOfTable(source).then(
    plan => `ignored: ${plan?.ignored.join(', ')}`,
    (error: Error) => error.message.replace(/^.*\n {2}/, ''),
  )
}

/** A scenario as short as the README has it: no components, the warranty with the option. */
const SHORT = `
horizon_years: 10
prices_from_evidence: {factor: 0.92}
site:
  panels: 20
  generation: {monthly_kwh: [310, 440, 700, 850, 960, 980, 1000, 900, 720, 500, 330, 260]}
  energy_value: {import_price_per_kwh: 0.3, export_price_per_kwh: 0.08}
options:
  - {name: A, topology: string, upfront_cost: 6900, warranty: {years: 10}}
`

describe('F7a: columns', () => {
  test.each(['constructor', 'toString', 'valueOf', 'hasOwnProperty'])(
    'one named %s is a column like any other (it used to be a fault of the program)',
    async name => {
      const table = `id,${name}\na,5\n`
      expect(await planned(table)).toBe(
        `nothing takes the column "${name}". Write under "columns" which key it fills, or list it under  ignore: [${name}]`,
      )
      expect(await planned(table, `ignore: [${name}]\n`)).toBe(`ignored: ${name}`)
    },
  )

  test('one that nothing takes stops the run, with the nearest that is known (it used to be listed on page five)', async () => {
    expect(await planned('id,age_yeers\na,5\n')).toBe(
      'nothing takes the column "age_yeers"; did you mean "age_years"? Write under "columns" which key it fills, or list it under  ignore: [age_yeers]',
    )
    expect(await planned('id,address,age_years\na,x,5\n', 'ignore: [address]\n')).toBe('ignored: address')
    expect(await planned('id\na\n', 'ignore: [address]\n')).toBe(
      '"ignore" names "address", but the table has no such column',
    )
  })

  test('several that nothing takes come in one list to copy; a header with a dot is no key (it used to be taken for one)', async () => {
    expect(await planned('id,Building,Fabrication no.,Street / code\na,x,5,y\n')).toBe(
      'nothing takes the columns "Building", "Fabrication no.", "Street / code". Write under "columns" which key each fills, or list them under  ignore: [Building, "Fabrication no.", "Street / code"]',
    )
  })

  test('another column may have the names of the sites', async () => {
    const table = 'Asset No,age_years\nPV-1,5\n'
    expect(await planned(table)).toBe(
      'the table has no column "id"; each site needs a name of its own. If another column has it, write e.g.  columns: {Asset No: id}',
    )
    const { tickets } = await opened(writeFleet(SHORT, table, 'columns: {Asset No: id}\n'), 20)
    expect(tickets[0]).toMatchObject({ id: 'PV-1', cells: ['5'] })
  })

  test('one named __proto__ is refused with a message; a site of that name is counted in its group', async () => {
    expect(await planned('id,__proto__\na,5\n')).toBe('a column may not be named "__proto__"')
    const table = siteTable(10).replace('s3,', '__proto__,')
    const { sums } = await playedChunk(writeFleet(homeTemplate(), table), 20)
    expect([...sums.sites]).toEqual([10, 10])
  })

  test.each(['components.1.age_years', 'components.x', 'components.length', 'components.-1.age_years'])(
    'one mapped to %s, which the template does not have, is an error (it used to be passed over)',
    async key => {
      expect(await planned('id,age\na,5\n', `columns: {age: ${key}}\n`)).toBe(
        `column "age" fills "${key}", but "components" of the template has one entry, number 0`,
      )
    },
  )

  test('one mapped to a place of another list that is not there, or to an option by its number', async () => {
    expect(await planned('id,may\na,5\n', 'columns: {may: site.generation.monthly_kwh.12}\n')).toContain(
      'of the template has 12 entries, numbers 0 to 11',
    )
    expect(await planned('id,age\na,5\n', 'columns: {age: options.1.components.0.age_years}\n')).toBe(
      'column "age" fills "options.1.components.0.age_years"; write "components.0.age_years": it fills the option that is on the roof',
    )
  })

  test.each(['ac_kw,5', 'count,1', 'model,birch', 'tier,robust', 'parts,700', 'warranty_years,12', 'labour_years,1'])(
    'fills the template in its short form: %s (it used to say "found a block of keys")',
    async both => {
      const [column = '', cell = ''] = both.split(',')
      const { tickets, census } = await opened(writeFleet(SHORT, `id,${column}\na,${cell}\n`), 20)
      expect(tickets[0]?.cells).toEqual([cell])
      expect(census.frame.sites).toBe(1)
    },
  )

  test('a folder of scenarios in the short form is a fleet (it used to say "a list of 0")', async () => {
    const folder = writeFolder({ 'a.yaml': SHORT, 'b.yaml': SHORT })
    const { sums } = await playedChunk(folder, 20)
    expect([...sums.sites]).toEqual([2])
    expect(sums.cash.reduce((sum, cents) => sum + cents, 0)).toBeGreaterThan(0)
  })
})

test('an empty folder is reported', async () => {
  const empty = mkdtempSync(join(tmpdir(), 'lifetally-fleet-'))
  await expect(readFleetSource(empty, null)).rejects.toThrow(
    'there is no scenario (.yaml, .yml or .json) in this folder',
  )
})
