import { expect, test } from 'vitest'
import { drawExits } from '../../src/history/chance.ts'
import { ProviderExits } from '../../src/history/provider-exits.ts'
import { streamKey } from '../../src/numerics/random/streams.ts'
import { exitsIn, meanOf } from '../worlds.ts'

const YEARS = 25
const DRAWS = 4000

test.each([0.03, 0.08, 0.5])('W5: providers exit at a constant rate of %d a year', rate => {
  const exits = Array.from({ length: DRAWS }, (_, draw) => {
    const out = new ProviderExits()
    out.begin(1)
    drawExits(streamKey(1, 'maker'), draw, rate, YEARS, out, 0)
    return exitsIn(out, 0)
  })
  const within = exits.map(moments => moments.filter(at => at <= YEARS).length)
  // counts are Poisson: the mean of 4,000 is known to √(rate·25/4000); z under 4.5
  expect(Math.abs(meanOf(within) - rate * YEARS) / Math.sqrt((rate * YEARS) / DRAWS)).toBeLessThan(4.5)
  const variance = meanOf(within.map(count => (count - rate * YEARS) ** 2))
  expect(variance / (rate * YEARS)).toBeGreaterThan(0.8)
  expect(variance / (rate * YEARS)).toBeLessThan(1.25)
  for (const moments of exits) {
    expect(moments).toEqual([...moments].sort((a, b) => a - b))
    // later ones are of no interest
    expect(moments.every(at => at <= YEARS)).toBe(true)
  }
})

test('W5: at a rate of 0 no provider exits', () => {
  const out = new ProviderExits()
  out.begin(1)
  drawExits(streamKey(1, 'maker'), 0, 0, YEARS, out, 0)
  expect(exitsIn(out, 0)).toEqual([])
  expect(out.any(0)).toBe(false)
})
