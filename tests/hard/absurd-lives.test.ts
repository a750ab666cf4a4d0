import { expect, test } from 'vitest'
import { TooManyFailuresError } from '../../src/errors.ts'
import { changed } from '../scenario/plain-scenario.ts'
import { type Block, failsAt, first, play, single, weibull, world } from '../worlds.ts'
import { playCase } from './play-case.ts'

// These used to play for hours: not one lifetime ended within ten minutes.
test.each([
  [
    'a life of a blink',
    'failure: {shape: 0.05, mean_life_years: 1e-9}, downtime: {detect_days: 0, respond_days: 0, repair_days: 0}',
  ],
  [
    'a life in hours taken for years',
    'failure: {shape: 2, mean_life_years: 0.001}, downtime: {detect_days: 0, respond_days: 0, repair_days: 0}',
  ],
])('M: units that fail every season end the run with a message: %s', async (_, keys) => {
  const text = changed(
    '        ac_kw: 0.29\n        replacement: {parts: 150, labour: 90}\n',
    `        ac_kw: 0.29\n        replacement: {parts: 150, labour: 90}\n        ${keys.replaceAll('}, ', '}\n        ')}\n`,
  )
  const start = process.cpuUsage()
  await expect(playCase(text, 'play')).rejects.toThrow(TooManyFailuresError)
  expect(process.cpuUsage(start).user / 1e6).toBeLessThan(5)
})

// The exact count used to be infinite less infinite, which ended the run with rule N4; play then had no failure at all.
test.each<[string, Block, number, number]>([
  ['shape 10,000, life 10, age 12', failsAt(10), 12, 2],
  ['shape 500, life 10, age 45', weibull(500, 10), 45, 2],
  [
    'the same in a batch that lives half as long',
    { ...weibull(500, 10), bad_batch: { chance: 1, affects: 0.5, life_times: 0.5 } },
    45,
    2,
  ],
  [
    'two modes',
    {
      modes: [
        { cause: 'a', ...weibull(1, 1e5) },
        { cause: 'b', shape: 10_000, characteristic_life_years: 10 },
      ].map(({ model_spread: _, bad_batch: __, ...mode }: Block) => mode),
      model_spread: 0,
      bad_batch: { chance: 0 },
    },
    12,
    2,
  ],
])('M2: units past a sharp life fail at once, and the notes say so: %s', async (_, failure, age_years, failures) => {
  const result = await play(world([single({ failure, age_years })], { horizon_years: 15 }), { draws: 100 })
  const { populations, failuresByYear } = first(result.options)
  expect(first(populations).failures.mean).toBe(failures)
  expect(first(populations).failures.exactMean).toBeCloseTo(failures, 3)
  expect(failuresByYear[0]).toBe(1)
  expect(result.notes.filter(({ code }) => code === 'past-their-life')).toHaveLength(1)
})

test('M3: a unit past a sharp life that is repaired without being renewed fails again at once, and is replaced in the end', async () => {
  const restore = { repair: { renews: 0, parts: 10, labour: 10, at_most: 3 } }
  const blocks = world([single({ failure: failsAt(10), age_years: 12, restore })], { horizon_years: 9 })
  const { failures } = first((await play(blocks, { draws: 100 })).options)
  expect(failures.mean).toBe(4)
})
