import { describe, expect, test } from 'vitest'
import { type Block, failsAt, option, play, single, unit, world } from '../worlds.ts'

const units = unit('panel-level-unit', { count: 20, failure: failsAt(4.5), replacement: { parts: 0.001 } })
const panels = (name: string, over: Block = {}) => option(name, 'panel-level', [units], over)
const notesOf = async (...options: readonly Block[]) =>
  new Map((await play(world(options, { horizon_years: 6, site: { panels: 20 } }))).notes.map(n => [n.code, n.text]))

describe('O3a: where options are not counted alike, a note says what it is worth', () => {
  test('O3a: another visit policy, with its worth against a visit at once', async () => {
    // all 20 fail within hours of each other
    const found = await notesOf(
      panels('P'),
      panels('Q', { visit_policy: { wait_for_units: 20, wait_at_most_days: 365 } }),
    )
    const text = found.get('visits-differ') ?? ''
    expect(text).toContain('P: a visit for each failure, no different; ')
    // twenty visits of 100 and 200 at once; one of 100, 200 and 19 times 50, less a few hours of energy at 1 a day
    const cheaper = /Q: a visit for 20 failed units, or after 365 days, EUR (\d+) cheaper/.exec(text)?.[1]
    expect(Math.abs(Number(cheaper) - (20 * 300 - 1250))).toBeLessThan(2)
    expect(found.has('monitoring-differs')).toBe(false)
    expect(found.has('losses-differ')).toBe(false)
  })

  test('O3a: options of one policy, monitoring and loss get no note; a single inverter waits for nothing', async () => {
    const found = await notesOf(panels('P'), panels('Q'), single({}, {}, 'S'))
    for (const code of ['visits-differ', 'monitoring-differs', 'losses-differ']) expect(found.has(code)).toBe(false)
  })

  test('O3a: other monitoring is named with what it costs against one that never fails and costs nothing', async () => {
    // one failure each, at 4.5 years; unseen it loses a tenth of a year at 1 a day more
    const failing = { failure: failsAt(4.5), downtime: { detect_days_unmonitored: 36.5 } }
    const gateway = unit('gateway', { failure: failsAt(4.5), needs_visit: false })
    const found = await notesOf(
      single(failing, { monitoring: 'none' }, 'N'),
      single(failing, {}, 'B'),
      option('G', 'string', [gateway, unit('string-inverter', failing)]),
    )
    const text = found.get('monitoring-differs') ?? ''
    expect(text).toContain('B: monitoring that is assumed never to fail, no different; ')
    const dearer = (name: string, way: string) =>
      Number(new RegExp(`${name}: ${way}[^;]*, EUR (\\d+)( ± \\d+)? dearer`).exec(text)?.[1])
    expect(Math.abs(dearer('N', 'no monitoring') - 36.5)).toBeLessThan(1)
    // the part of the gateway, fitted by the owner; a failure of the inverter within hours of it may go unseen too
    expect(dearer('G', 'a gateway')).toBeGreaterThanOrEqual(1000)
    expect(dearer('G', 'a gateway')).toBeLessThanOrEqual(1037)
  })

  test('O3a: other losses by design are named with their worth', async () => {
    const found = await notesOf(
      single({}, { design_losses: { clipping: 0.1 } }, 'S'),
      panels('P', { monitoring: 'built-in' }),
    )
    // a tenth of 365 kWh a year at 1, for six years
    expect(found.get('losses-differ')).toContain('EUR 219 for S (219 kWh), EUR 0 for P (0 kWh)')
  })

  test('O3a: what only some prices include is named with the cost at which the order changes; what all include is not', async () => {
    const includes = (name: string, upfront_cost: number, ...words: readonly string[]) =>
      single({}, { upfront_cost, includes: words }, name)
    const found = await notesOf(
      includes('A', 5000, 'scaffold', 'meter'),
      includes('B', 5500, 'scaffold', 'meter'),
      includes('C', 4600, 'meter'),
    )
    expect(found.get('includes-differ')).toBe(
      'The price includes scaffold for A; B, not for C. Check that all quotes cover the same.',
    )
    expect(found.get('includes-worth')).toBe(
      'The price of A includes scaffold, that of C does not. As quoted, C is EUR 400 ± 0 cheaper over its life: it stays the cheaper only if the same work costs less than that.',
    )
    expect([...found.values()].join()).not.toContain('meter')
  })

  test('O3a: where the price that includes more is the lower one too, the work would only add to the difference', async () => {
    const found = await notesOf(single({}, { upfront_cost: 4600, includes: ['meter'] }, 'A'), single({}, {}, 'B'))
    expect(found.get('includes-worth')).toBe(
      'The price of A includes meter, that of B does not. As quoted, A is EUR 400 ± 0 cheaper over its life even so; the same work would add to that.',
    )
  })
})
