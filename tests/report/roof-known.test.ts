import { describe, expect, test } from 'vitest'
import type { Results } from '../../src/analysis/results.ts'
import { roofFindings } from '../../src/energy/roof-findings.ts'
import { underTheAnswer } from '../../src/report/estimate/frame/answer.ts'
import { roofKnown } from '../../src/report/estimate/roof-known.ts'
import { viewOf } from '../../src/report/estimate/view.ts'
import { readScenario } from '../../src/scenario/read-scenario.ts'
import { homeResults } from './fixture.ts'

/** Results whose inputs, notes and roof are those of a site. */
function resultsFor(site: string): Results {
  const scenario = readScenario(
    `prices_from_evidence: yes
site:
  panels: 20
  panel_w: 440
  energy_value: {import_price_per_kwh: 0.3, export_price_per_kwh: 0.08}
  ${site}
options: [{name: A, topology: string, upfront_cost: 7000, inverter_kw: 6}]
`,
    'quote.yaml',
    'examples',
  )
  return { ...homeResults(), inputs: scenario.assumptions, notes: scenario.notes, roof: roofFindings(scenario) }
}

const MONTHS = '[200, 300, 500, 650, 750, 800, 800, 700, 550, 400, 250, 200]'
const LIGHT = '[1.2, 2, 3.1, 4.3, 5.2, 5.8, 5.9, 5, 3.7, 2.3, 1.3, 1]'
const ARRAYS = 'generation: {arrays: [{panels: 20, tilt: 30, azimuth: south}]}'

describe('the answer says how well the energy is known', () => {
  test.each([
    [
      `generation: {monthly_kwh: ${MONTHS}}`,
      'The energy comes from twelve stated months and is as good as their quote.',
    ],
    [
      'generation: {hourly_csv: measured-year.csv}',
      'The energy comes from an hourly year of the roof and is as good as that file.',
    ],
    [
      'generation: {annual_kwh: 6500}\n  location: {latitude: 47}',
      'The energy comes from one stated figure a year and is as good as its quote; the share of each month is known to about 1.5 percentage points.',
    ],
    [
      'generation: {annual_kwh: 6500}',
      'The energy comes from one stated figure a year and is as good as its quote; its months are those of a typical climate, not of this place.',
    ],
    [
      `${ARRAYS}\n  location: {latitude: 47, monthly_ghi_kwh_m2_day: ${LIGHT}}`,
      'The light comes from twelve monthly figures of light, spread over clear and dull days; the energy of a year is known to about 4 %.',
    ],
    [
      `${ARRAYS}\n  location: {latitude: 47, climate: cloudy}`,
      'The light comes from a typical climate, not this place; the energy of a year is known to about 12 %.',
    ],
  ])('%s', (site, sentence) => {
    const view = viewOf(resultsFor(site))
    expect(roofKnown(view).replaceAll('\u00a0', ' ')).toBe(sentence)
    expect(underTheAnswer(view).join(' ')).toContain(roofKnown(view))
  })
})
