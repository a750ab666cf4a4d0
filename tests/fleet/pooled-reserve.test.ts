import { describe, expect, test } from 'vitest'
import { fleetFindings } from '../../src/fleet/findings/findings.ts'
import { factsOf } from '../../src/fleet/fleet-facts.ts'
import type { FleetResults } from '../../src/fleet/fleet-results.ts'
import { ChunkPlayer } from '../../src/fleet/play/chunk.ts'
import { shapeOf } from '../../src/fleet/play/fleet-frame.ts'
import { FleetSums } from '../../src/fleet/play/fleet-sums.ts'
import { readFleetSource } from '../../src/fleet/sites/fleet-file.ts'
import { renderFleetReport } from '../../src/report/fleet/render-fleet.ts'
import { yearsCsv } from '../../src/report/fleet/year-rows.ts'
import { homeTemplate, opened, siteTable, writeFleet } from './fleets.ts'

const DRAWS = 200

/** fleet.json of a small fleet, with the sums it comes from. */
async function played(path: string): Promise<{ results: FleetResults; sums: FleetSums }> {
  const { census, tickets } = await opened(path, DRAWS)
  const shape = shapeOf(census.frame)
  const chunk = new ChunkPlayer(census.frame).play(tickets)
  const sums = new FleetSums(shape)
  sums.add(chunk.sums, chunk.singleVariance)
  const facts = factsOf(await readFleetSource(path, null), census, '')
  const { seed, mark, listed } = census.frame
  const none = { bytes: 0, linesHash: '', leftOut: [], firstSites: [] }
  const head = { ...none, version: '0', seed, mark, part: 1, parts: 1, done: listed, shape, facts }
  return { results: fleetFindings({ head, sums }, { name: 'lifetally', version: '0' }), sums }
}

describe('R2a: what to have ready and put aside for a fleet', () => {
  test('the deposit pays the mean cash; with the sum at the start so many draws stay solvent, without it fewer', async () => {
    const terms = 'reserve: {interest: 2%, opening: 5000, confidence: 80%, inflation: 3%}'
    const { results, sums } = await played(writeFleet(homeTemplate({ head: terms }), siteTable(60)))
    const { twoPart, twoPartFixedInMoney, contributionAt } = results.reserve
    const cash = sums.column('cash').map(cents => cents / 100)
    const years = cash.length / DRAWS
    const rows = Array.from({ length: DRAWS }, (_, draw) => cash.subarray(draw * years, (draw + 1) * years))
    for (const [{ ready, perYear, confidence, chanceShort }, falls] of [
      [twoPart, 0],
      [twoPartFixedInMoney ?? twoPart, 0.03],
    ] as const) {
      const worth = (of: (year: number) => number): number =>
        Array.from({ length: years }, (_, year) => of(year) * 1.02 ** -year).reduce((sum, each) => sum + each, 0)
      const deposits = worth(year => perYear.value * (1 + falls) ** -year)
      const mean = rows.reduce((sum, row) => sum + worth(year => row[year] ?? 0), 0) / DRAWS
      expect(deposits / mean).toBeGreaterThan(1 - 1e-9)
      if (falls === 0 && contributionAt['50'].value < perYear.value) expect(deposits / mean).toBeCloseTo(1, 9)
      const solvent = (start: number): number =>
        rows.filter(row => {
          let balance = start
          return row.every((amount, year) => {
            balance = balance * (year === 0 ? 1 : 1.02) + perYear.value * (1 + falls) ** -year - amount
            return balance >= -1e-6
          })
        }).length / DRAWS
      expect(confidence).toBe(0.8)
      expect(solvent(ready.value)).toBeGreaterThanOrEqual(0.8 - 1 / DRAWS)
      expect(solvent(0.9 * ready.value)).toBeLessThan(0.8)
      expect(1 - solvent(ready.value)).toBeCloseTo(chanceShort, 9)
    }
  })
})

describe('C8: what sites of a fleet may buy later', () => {
  const later = 'later: [{name: battery, year: 3, chance: 30%, cost: 5000}]'

  test('each site by a draw of its own: the count is binomial, the cost lies in the year, the cash stays', async () => {
    const path = writeFleet(homeTemplate({ option: later }), siteTable(80))
    const { results, sums } = await played(path)
    const { results: plain } = await played(writeFleet(homeTemplate(), siteTable(80)))
    expect(plain.later).toBeNull()
    expect(results.later).toMatchObject({ names: ['battery'], sites: 80 })
    const bought = sums.column('laterBought')
    const mean = bought.reduce((sum, count) => sum + count, 0) / DRAWS
    const variance = bought.reduce((sum, count) => sum + (count - mean) ** 2, 0) / (DRAWS - 1)
    expect(Math.abs(mean - 24) / Math.sqrt((80 * 0.3 * 0.7) / DRAWS)).toBeLessThan(4)
    // one draw for the whole fleet would give 1,344
    expect(variance / (80 * 0.3 * 0.7)).toBeGreaterThan(0.6)
    expect(variance / (80 * 0.3 * 0.7)).toBeLessThan(1.5)
    expect(results.later?.cost.mean.value).toBeCloseTo(5000 * mean, 6)
    expect(results.later?.costByYear.map(cost => cost > 0)).toEqual(Array.from({ length: 15 }, (_, year) => year === 3))
    expect(results.cash).toEqual(plain.cash)
    expect(results.reserve).toEqual(plain.reserve)
  })

  test('past the horizon nothing is bought', async () => {
    const path = writeFleet(homeTemplate({ option: later.replace('year: 3', 'year: 15') }), siteTable(4))
    expect((await played(path)).results.later?.cost.mean.value).toBe(0)
  })
})

describe('F7a: failures of monitoring are counted separately', () => {
  test('a failing gateway does not put a roof first, and is named in report and years', async () => {
    const gateway = `- kind: gateway
        failure: {shape: 1, characteristic_life_years: 2, model_spread: 0, bad_batch: {chance: 0%}}
        replacement: {parts: 100, labour: 0}`
    const inverter =
      'failure: {shape: 10000, characteristic_life_years: 5000, model_spread: 0, bad_batch: {chance: 0%}}'
    const template = homeTemplate({ component: inverter }).replace(
      '    warranty_provider',
      `      ${gateway}\n    warranty_provider`,
    )
    const path = writeFleet(template, 'id\na\nb\n')
    const { results, sums } = await played(path)
    const { stopEnergy, monitoringOnly, batteryOnly } = results.failuresByEffect
    expect([stopEnergy.value, batteryOnly.value]).toEqual([0, 0])
    expect(monitoringOnly).toEqual(results.failures.mean)
    // two roofs, 15 years, one failure in two years
    expect(Math.abs(monitoringOnly.value - 15)).toBeLessThan(4 * Math.sqrt(15 / DRAWS) + 0.7)
    expect(sums.column('monitoringFailures')).toEqual(sums.column('failures'))
    expect(yearsCsv(results).split('\n')[0]).toContain('Of these failures, of monitoring alone, mean')
    expect(renderFleetReport(results, '')).toContain('stop monitoring alone')
  })
})
