import { afterAll, beforeAll, expect, test, vi } from 'vitest'
import type { Kind } from '../../src/topologies/kinds.ts'

const FUSE = 'test-fuse'

const KINDS = '../../src/topologies/kinds.ts'

// A kind that nothing else in the program names: one entry of the table, filled from the row of optimisers. The
// program is loaded anew with it, and once more without it for the tests that follow in this process.
beforeAll(() => {
  vi.resetModules()
  vi.doMock(import('../../src/topologies/kinds.ts'), async importOriginal => {
    const table = await importOriginal()
    const fuse: Kind = {
      one: 'test fuse',
      article: 'a',
      many: 'test fuses',
      alsoCalled: [],
      role: 'string',
      carries: 'none',
      curve: null,
      monitors: false,
      onRoof: true,
      needsVisit: true,
      joins: 'strings',
      row: 'optimiser',
    }
    Object.assign(table.KINDS, { [FUSE]: fuse })
    Object.assign(table.COMPONENT_KINDS, { [table.COMPONENT_KINDS.length]: FUSE })
    return table
  })
})

afterAll(() => {
  vi.doUnmock(KINDS)
  vi.resetModules()
})

const scenario = (topology: string, kinds: readonly string[]): Record<string, unknown> => ({
  site: {
    panels: 20,
    generation: { monthly_kwh: new Array(12).fill(500) },
    energy_value: { import_price_per_kwh: 0.3, export_price_per_kwh: 0.1 },
  },
  prices_from_evidence: { factor: 1 },
  options: [
    { name: 'One', topology, upfront_cost: 5000, components: kinds.map(kind => ({ kind, count: 2, ac_kw: 3 })) },
  ],
})

test('a new kind plays, is filled from evidence and is named in the report by its entry in the table alone', async () => {
  const { first, play } = await import('../worlds.ts')
  const { renderReport } = await import('../../src/report/estimate/render-estimate.ts')
  const results = await play(scenario('string', ['string-inverter', FUSE]), { draws: 400 })
  const option = first(results.options)
  const fuses = option.populations[1]
  expect(fuses?.kind).toBe(FUSE)
  expect(fuses?.failures.mean).toBeGreaterThan(0.1)
  expect(results.inputs.find(({ key }) => key === `One / ${FUSE} / warranty.years`)).toMatchObject({
    value: 25,
    known: 'published',
  })
  expect(results.inputs.find(({ key }) => key === `One / ${FUSE} / on_roof`)?.value).toBe('yes')
  expect(results.inputs.some(({ key }) => key === `One / ${FUSE} / failure.early.susceptible`)).toBe(true)
  const html = renderReport(results, { audience: 'buyer', command: 'lifetally' })
  expect(html).toContain('test fuses')
  expect(html).toContain('test fuse')
  expect(html).not.toContain(`>${FUSE}<`)
})

test('the table lists the topologies of a kind, and messages follow it', async () => {
  const { readScenario } = await import('../../src/scenario/read-scenario.ts')
  const read = (topology: string, kinds: readonly string[]) =>
    readScenario(JSON.stringify(scenario(topology, kinds)), 'roof.json', '.')
  expect(() => read('panel-level', ['panel-level-unit', FUSE])).toThrow(
    `"${FUSE}" does not go with topology "panel-level"; allowed: panel-level-unit, gateway, battery, battery-inverter`,
  )
  expect(() => read('string', ['string-inverter', 'test-fuze'])).toThrow(`did you mean "${FUSE}"?`)
})
