import { beforeAll, describe, expect, test } from 'vitest'
import type { Results } from '../../src/analysis/results.ts'
import { type RoofFindings, roofFindings } from '../../src/energy/roof-findings.ts'
import { renderReport } from '../../src/report/render.ts'
import { roofMonths } from '../../src/report/sections/roof-months.ts'
import { roofPower } from '../../src/report/sections/roof-power.ts'
import { roofShade } from '../../src/report/sections/roof-shade.ts'
import { viewOf } from '../../src/report/view.ts'
import { resultsJson } from '../../src/report/write-json.ts'
import { loadScenario } from '../../src/scenario/read-scenario.ts'
import { homeResults } from './fixture.ts'

async function roofOf(example: string): Promise<RoofFindings> {
  const found = roofFindings(await loadScenario(`examples/${example}.yaml`))
  if (found === null) throw new Error('no roof')
  return found
}

describe('the roof in the report', () => {
  let shaded: Results
  beforeAll(async () => {
    // four options in both; only the letters have to fit
    shaded = { ...homeResults(), roof: await roofOf('shaded-three-faces') }
  })

  test('without arrays nothing is said of a roof', () => {
    const view = viewOf(homeResults())
    expect([roofMonths(view), roofPower(view), roofShade(view)]).toEqual([null, null, null])
  })

  test('months: delivered and losses stand for what the panels could give', () => {
    const found = roofMonths(viewOf(shaded))
    const rows = found?.tables[0]?.rows.map(row => row.cells.map(cell => Number(cell.text.replaceAll(',', '')))) ?? []
    const columns = rows[0]?.length ?? 0
    expect(columns).toBe(4)
    for (let column = 0; column < columns; column++) {
      const values = rows.map(row => row[column] ?? Number.NaN)
      const [ideal = 0, ...rest] = values
      // each figure is rounded to a kWh
      expect(Math.abs(ideal - rest.reduce((sum, value) => sum + value, 0))).toBeLessThanOrEqual(3)
    }
    expect(found?.sentence).toMatch(/^In its first year the roof delivers most with .+ \(B\): /)
  })

  test('shade: selective optimisers against all, none, and a shade that moved', () => {
    const found = roofShade(viewOf(shaded))
    expect(found?.tables[0]?.rows.map(row => row.heading)).toEqual([
      'As fitted',
      'On all panels',
      'On none',
      'As fitted, the shade moved',
      'On all panels, the shade moved',
    ])
    expect(found?.tables[1]?.rows).toHaveLength(12)
    expect(found?.paragraphs[1]).toContain('optimisers on 4 on south and 3 on west')
    expect(found?.figures[0]?.svg).toContain('hour of the day, sun time')
  })

  test('power: no clipping is said in words; with clipping the line of the rating is drawn', async () => {
    expect(roofPower(viewOf(shaded))?.sentence).toBe(
      'No option is cut off by its inverters: they are large enough for these panels.',
    )
    const clear = await roofOf('unshaded-oversized')
    const three = { ...homeResults(), roof: clear }
    const found = roofPower(viewOf(three))
    expect(found?.sentence).toMatch(/^The inverters cut off at most /)
    expect(found?.figures[0]?.svg).toContain('rating ')
  })

  test('a word for shade gives a range', async () => {
    const business = { ...homeResults(), roof: await roofOf('business-export-limit') }
    expect(roofMonths(viewOf(business))?.paragraphs[1]).toMatch(/^Shade is told in a word only, so the share /)
  })

  test('the whole report and results.json take the roof in', () => {
    const html = renderReport(shaded, { audience: 'buyer', command: 'lifetally estimate roof.yaml' })
    expect(html).toContain('roof-months')
    expect(JSON.parse(resultsJson(shaded)).roof.options).toHaveLength(4)
  })
})
