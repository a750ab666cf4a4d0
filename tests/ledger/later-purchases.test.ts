import { describe, expect, test } from 'vitest'
import { type Block, first, play, single, world } from '../worlds.ts'

const buys = (later: Block, name = 'One', upfront = 5000): Block =>
  single({}, { upfront_cost: upfront, later: [{ name: 'battery', year: 3, chance: 1, cost: 7000, ...later }] }, name)

describe('C8 later purchases', () => {
  test('year 3 is paid at 3.5; year 3.9 too; a line of its own, part of ownership', async () => {
    for (const year of [3, 3.9]) {
      const one = first((await play(world([buys({ year })], { discount_rate: 0.04 }))).options)
      expect(one.costs.later).toBeCloseTo(7000 * 1.04 ** -3.5, 6)
      expect(one.lifetimeCost.mean - one.costs.later).toBeCloseTo(one.totals.acquisition, 6)
    }
  })

  test('is no part of the contribution needed and the reserve', async () => {
    const { outOfPocket, cashByYear, reserve } = first((await play(world([buys({})]))).options)
    expect([outOfPocket.mean, reserve.contributionPerYear, reserve.twoPart.ready]).toEqual([0, 0, 0])
    expect(cashByYear.mean.every(cash => cash === 0)).toBe(true)
  })

  test('is never paid past the horizon; the last year is paid at 19.5 of 20', async () => {
    expect(first((await play(world([buys({ year: 20 })]))).options).costs.later).toBe(0)
    expect(first((await play(world([buys({ year: 19 })]))).options).costs.later).toBe(7000)
  })

  test('one uniform a name and draw: options of one name buy in the same lifetimes, whatever their price', async () => {
    const { options, comparisons } = await play(
      world([buys({ chance: 0.6 }), buys({ chance: 0.6, cost: 4000 }, 'Two', 6000)]),
      { draws: 4000 },
    )
    const [one, two] = options
    const share = (one?.costs.later ?? 0) / 7000
    // 4.5 standard errors of 4,000 draws
    expect(Math.abs(share - 0.6)).toBeLessThan(0.035)
    expect((two?.costs.later ?? 0) / 4000).toBeCloseTo(share, 12)
    // so the difference is 1,000 or −2,000 and nothing else
    const pair = first(comparisons)
    expect(pair.verdict).not.toBeNull()
    expect(pair.chanceCheaper).toBeCloseTo(share, 12)
  })

  test('another name, another uniform', async () => {
    const { options } = await play(world([buys({ chance: 0.5 }), buys({ chance: 0.5, name: 'car' }, 'Two')]), {
      draws: 1000,
    })
    expect(options[0]?.costs.later).not.toBe(options[1]?.costs.later)
  })

  test('options whose names differ get no verdict against each other, and a note', async () => {
    const { comparisons, notes } = await play(world([buys({}), single({}, {}, 'Plain')]))
    expect(first(comparisons).verdict).toBeNull()
    const note = notes.find(({ code }) => code === 'later-differs')
    expect(note?.text).toContain('(One: battery; Plain: nothing)')
    const same = await play(world([buys({}), buys({ cost: 1 }, 'Two')]))
    expect(same.notes.filter(({ code }) => code === 'later-differs')).toEqual([])
  })

  test('its three figures may be ranges: the mean follows the range', async () => {
    const later = { year: { low: 2, high: 6 }, chance: { low: 0.3, high: 0.7 }, cost: { low: 6000, high: 8000 } }
    const { options } = await play(world([buys(later)]), { draws: 4000 })
    const [one] = options
    // half of about 7,000
    expect(Math.abs((one?.costs.later ?? 0) / 3480 - 1)).toBeLessThan(0.05)
    expect(one?.costStandardErrors.later).toBeGreaterThan(0)
  })
})
