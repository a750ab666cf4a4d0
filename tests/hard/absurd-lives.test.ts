import { expect, test } from 'vitest'
import { TooManyFailuresError } from '../../src/errors.ts'
import { changed } from '../scenario/plain-scenario.ts'
import { playCase } from './play-case.ts'

// These used to play for hours: the first ten minutes brought not one lifetime to an end.
test.each([
  [
    'a life of a blink',
    'failure: {shape: 0.05, mean_life_years: 1e-9}, downtime: {detect_days: 0, respond_days: 0, repair_days: 0}',
  ],
  [
    'a life in hours taken for years',
    'failure: {shape: 2, mean_life_years: 0.001}, downtime: {detect_days: 0, respond_days: 0, repair_days: 0}',
  ],
])('M: units that fail every season end the run with words: %s', async (_, keys) => {
  const text = changed(
    '        ac_kw: 0.29\n        replacement: {parts: 150, labour: 90}\n',
    `        ac_kw: 0.29\n        replacement: {parts: 150, labour: 90}\n        ${keys.replaceAll('}, ', '}\n        ')}\n`,
  )
  const start = process.cpuUsage()
  await expect(playCase(text, 'play')).rejects.toThrow(TooManyFailuresError)
  expect(process.cpuUsage(start).user / 1e6).toBeLessThan(5)
})
