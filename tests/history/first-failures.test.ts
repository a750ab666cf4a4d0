import { describe, expect, test } from 'vitest'
import { FirstFailures, partOf } from '../../src/history/first-failures.ts'
import { type Block, failsAt, livesOf, single, world } from '../worlds.ts'

/** A batch that strikes in every draw and hits every unit, which then lives half as long. */
const STRUCK = { bad_batch: { chance: 1, affects: 1, life_times: 0.5 } }

/** Moments of failure of the one unit, to a tenth of a year. */
const failuresOf = (over: Block): number[] =>
  (livesOf(world([single(over)]), 1)[0]?.rows ?? [])
    .map(row => Math.round(row.failedAt * 10) / 10)
    .filter(at => at < 20)

describe('M4: bad batches', () => {
  test('a population of one unit is hit too; its replacement lives as long as any', () => {
    expect(failuresOf({ failure: failsAt(8, STRUCK) })).toEqual([4, 12])
  })

  test('M3: a repaired unit keeps its batch', () => {
    const restore = { repair: { renews: 1, parts: 1, labour: 1 } }
    expect(failuresOf({ failure: failsAt(8, STRUCK), restore })).toEqual([4, 8, 12, 16])
  })
})

test('M7: each slot has a stream of its own, whether or not a batch hit its unit; 0 is the population’s', () => {
  const firsts = new FirstFailures()
  for (const hit of [true, false]) for (let rank = 0; rank < 40; rank++) firsts.add(1, hit, rank)
  const parts = Array.from({ length: firsts.n }, (_, i) => partOf(firsts, i))
  expect(new Set([0, ...parts]).size).toBe(81)
})
