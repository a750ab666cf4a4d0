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

  test('O3a: other monitoring and other losses by design are named, losses with their worth', async () => {
    const found = await notesOf(
      single({}, { monitoring: 'none', design_losses: { clipping: 0.1 } }, 'S'),
      panels('P', { monitoring: 'built-in' }),
    )
    expect(found.get('monitoring-differs')).toContain(
      'by monitoring that is taken never to fail (P), without monitoring (S). What that is worth is not worked out',
    )
    // a tenth of 365 kWh a year at 1, for six years
    expect(found.get('losses-differ')).toContain('EUR 219 for S, EUR 0 for P')
  })

  test('O3a: what only some prices include is named; what all include is not', async () => {
    const includes = (name: string, ...words: readonly string[]) => single({}, { includes: words }, name)
    const found = await notesOf(
      includes('A', 'scaffold', 'meter'),
      includes('B', 'scaffold', 'meter'),
      includes('C', 'meter'),
    )
    expect(found.get('includes-differ')).toBe(
      'The price includes scaffold for A; B, not for C. What that is worth is not worked out: check that all quotes cover the same.',
    )
    expect([...found.values()].join()).not.toContain('meter')
  })
})
