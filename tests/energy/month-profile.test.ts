import { expect, test } from 'vitest'
import { householdOf } from '../../src/energy/meter.ts'
import { optionOnRoof, stagesOf } from '../../src/energy/roof-energy.ts'
import { roofYear } from '../../src/energy/roof-year.ts'
import { MONTH_SHARES, monthShares } from '../../src/evidence/month-profile.ts'
import { readScenario } from '../../src/scenario/read-scenario.ts'

/** Per cent of the year by month, played by the chain from sun to meter. */
function played(location: string, azimuth: number): number[] {
  const text = `prices_from_evidence: {factor: 1}
site:
  location: ${location}
  generation: {arrays: [{name: roof, panels: 20, panel_w: 330, tilt: 25, azimuth: ${azimuth}}]}
  energy_value: {import_price_per_kwh: 0.3, export_price_per_kwh: 0.08}
options:
  - {name: A, topology: string, upfront_cost: 1, components: [{kind: string-inverter, ac_kw: 6}]}
`
  const { site, options } = readScenario(text, 'roof.yaml', '.')
  const [option] = options
  if (site.generation.form !== 'arrays' || option === undefined) throw new Error('the roof has arrays')
  const roof = roofYear(site.generation)
  const on = optionOnRoof(roof, householdOf(site, roof.sky, roof.idealKw), site, option)
  const kwh = [...stagesOf(roof, on, 1).deliveredKwh]
  const sum = kwh.reduce((total, month) => total + month, 0)
  return kwh.map(month => (100 * month) / sum)
}

function largestGap(one: readonly number[], other: readonly number[]): number {
  return Math.max(...one.map((share, month) => Math.abs(share - (other[month] ?? 0))))
}

test('E1: the months of a yearly figure are those of a plane tilted 25 degrees to the equator in a temperate climate', () => {
  MONTH_SHARES.forEach((shares, row) => {
    expect(largestGap(played(`{latitude: ${10 * row}, climate: temperate}`, 180), shares)).toBeLessThan(0.006)
  })
})

test.each(['cloudy', 'sunny', 'dry'])('the climate %s moves no month by more than 0.7 percentage points', climate => {
  for (const latitude of [20, 40, 60])
    expect(
      largestGap(
        played(`{latitude: ${latitude}, climate: ${climate}}`, 180),
        monthShares(latitude).map(share => 100 * share),
      ),
    ).toBeLessThan(0.7)
})

test('between two rows straight lines hold to 0.2 points, south of the equator half a year later to 0.9', () => {
  expect(largestGap(played('{latitude: 47, climate: temperate}', 180), percent(47))).toBeLessThan(0.2)
  expect(largestGap(played('{latitude: -35, climate: temperate}', 0), percent(-35))).toBeLessThan(0.9)
})

test('twelve shares add up to one at any latitude; the best month is May at 40 north, November at 40 south', () => {
  for (const latitude of [-65, -33, 0, 9.99, 10, 47, 60, 65])
    expect(monthShares(latitude).reduce((sum, share) => sum + share, 0)).toBeCloseTo(1, 12)
  const best = (latitude: number) => percent(latitude).indexOf(Math.max(...percent(latitude)))
  expect([best(-40), best(40)]).toEqual([10, 4])
})

function percent(latitude: number): number[] {
  return monthShares(latitude).map(share => 100 * share)
}
