import { describe, expect, test } from 'vitest'
import { type Block, failsAt, first, livesOf, single, world } from '../worlds.ts'

/** A batch that strikes in every draw and hits every unit, which then lives half as long. */
const STRUCK = { bad_batch: { chance: 1, affects: 1, life_times: 0.5 } }

/** Moments of failure of the one unit, to a tenth of a year. */
const failuresOf = (over: Block): number[] =>
  (livesOf(world([single(over)]), 1)[0]?.rows ?? [])
    .map(row => Math.round(row.failedAt * 10) / 10)
    .filter(at => at < 20)

describe('M4: bad batches', () => {
  test('a population of one unit is hit too; its replacement lives as long as any unit', () => {
    expect(failuresOf({ failure: failsAt(8, STRUCK) })).toEqual([4, 12])
  })

  test('M3: a repaired unit keeps its batch', () => {
    const restore = { repair: { renews: 1, parts: 1, labour: 1 } }
    expect(failuresOf({ failure: failsAt(8, STRUCK), restore })).toEqual([4, 8, 12, 16])
  })
})

test('M7: each slot has a stream of its own, whether or not a batch hit its unit', () => {
  // half of forty units are hit: no two slots draw the same number for a claim
  const struck = { bad_batch: { chance: 1, affects: 0.5, life_times: 0.5 } }
  const { rows } = first(livesOf(world([single({ count: 40, failure: failsAt(12, struck) })]), 1))
  const originals = rows.filter(({ before }) => before < 0)
  expect(originals.length).toBe(40)
  expect(new Set(originals.map(({ failedAt }) => Math.round(failedAt)))).toEqual(new Set([6, 12]))
  expect(new Set(originals.map(({ claim }) => claim)).size).toBe(40)
})
