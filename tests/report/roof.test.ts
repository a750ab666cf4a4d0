import { beforeAll, describe, expect, test } from 'vitest'
import type { Results } from '../../src/analysis/results.ts'
import { type RoofFindings, roofFindings } from '../../src/energy/roof-findings.ts'
import { renderReport } from '../../src/report/estimate/render-estimate.ts'
import { roofMonths } from '../../src/report/estimate/sections/roof-months.ts'
import { roofPower } from '../../src/report/estimate/sections/roof-power.ts'
import { roofShade } from '../../src/report/estimate/sections/roof-shade.ts'
import { viewOf } from '../../src/report/estimate/view.ts'
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

  test('months: delivered and losses add up to what the panels could give', () => {
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

  test('E: more is a share of what the lesser delivers, and a roof without light gives no share', () => {
    const delivering = (...kwh: readonly number[]): string => {
      const options = (shaded.roof?.options ?? []).slice(0, kwh.length).map((one, i) => ({
        ...one,
        yearByMonth: { ...one.yearByMonth, deliveredKwh: Array.from({ length: 12 }, () => (kwh[i] ?? 0) / 12) },
      }))
      const view = viewOf({ ...shaded, roof: shaded.roof === null ? null : { ...shaded.roof, options } })
      return (roofMonths(view)?.sentence ?? '').replaceAll('\u00a0', ' ')
    }
    // 1000 is a quarter more than 800, and a fifth of itself
    expect(delivering(800, 1000)).toMatch(/ \(B\): 1,000 kWh, 200 kWh or 25 % more than with .+ \(A\), before/)
    expect(delivering(0, 1000)).toMatch(/ \(B\): 1,000 kWh, 1,000 kWh more than with .+ \(A\), before/)
    expect(delivering(0, 0)).toBe('No light falls on this roof: it gives no energy in its first year.')
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
    // the words carry the signs of the figures: fewer on all panels, fewer where the shade moved
    expect(found?.paragraphs[1]).toMatch(
      /^.+ \(B\) has optimisers on 4 on south and 3 on west\. In a year they give \d+\skWh more than none would\. Optimisers on all panels would give \d+\skWh less than these\. If the shade moved to panels without one, as when a tree grows or a neighbour builds, the roof would give [\d,]+\skWh less than now; with optimisers on all panels it would then give \d+\skWh less than now\.$/,
    )
    const cells =
      found?.tables[0]?.rows.map(row => row.cells.map(cell => Number(cell.text.replaceAll(/[,−]/g, '')))) ?? []
    const said = (found?.paragraphs[1]?.match(/[\d,]+\skWh/g) ?? []).map(words =>
      Number(words.replaceAll(/[^\d]/g, '')),
    )
    // table rows: as fitted, all, none, moved, moved with all; second column: against as fitted
    expect(said).toEqual([cells[2]?.[1], cells[1]?.[1], cells[3]?.[1], cells[4]?.[1]])
    expect(found?.figures[0]?.svg).toContain('hour of the day, sun time')
  })

  // used to read 'They give the same a year than none would'
  test('E6: optimisers that change nothing give as much as none would', () => {
    const roof = shaded.roof
    const options = roof?.options.map(one => ({
      ...one,
      optimisers: one.optimisers && { ...one.optimisers, noneInsteadKwh: one.optimisers.asFittedKwh },
    }))
    const found = roofShade(viewOf({ ...shaded, roof: roof && { ...roof, options: options ?? [] } }))
    expect(found?.paragraphs[1]).toContain('In a year they give as much as none would. Optimisers on all panels would')
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
    expect(roofMonths(viewOf(business))?.paragraphs[1]).toMatch(/^Shade is given in a word only, so the share /)
  })

  test.each([
    ['energy-by-month', 'shaded-three-faces', roofMonths],
    ['power-duration', 'unshaded-oversized', roofPower],
    ['shade-map', 'shaded-three-faces', roofShade],
  ] as const)('%s is drawn as it was when last looked at', async (name, example, section) => {
    const svg = section(viewOf({ ...homeResults(), roof: await roofOf(example) }))?.figures[0]?.svg ?? ''
    await expect(`${svg.replace(/></g, '>\n<')}\n`).toMatchFileSnapshot(`charts/${name}.svg`)
  })

  test('the whole report and results.json include the roof', () => {
    const html = renderReport(shaded, { audience: 'retailer', command: 'lifetally estimate roof.yaml' })
    expect(html).toContain('roof-months')
    expect(JSON.parse(resultsJson(shaded)).roof.options).toHaveLength(4)
  })
})
