import { expect, test } from 'vitest'
import { run } from '../cli/run.ts'
import { option, unit, world } from '../worlds.ts'

// a spread between models gives parameter sets; few failures keep the run short
const failure = { shape: 2, characteristic_life_years: 15, model_spread: 0.3 }
const BLOCKS = world(
  [option('G', 'string', [unit('gateway', { failure }), unit('string-inverter', { failure, warranty: { years: 2 } })])],
  { horizon_years: 4 },
)

test('N3: one, two or three threads give the same bytes', () => {
  const written = [1, 2, 3].map(threads => {
    const { code, out } = run(
      ['estimate', '-', '--json', '--draws', '2020', '--threads', `${threads}`],
      JSON.stringify(BLOCKS),
    )
    expect(code).toBe(0)
    return out
  })
  expect(written[0]?.length).toBeGreaterThan(5000)
  expect(written[1]).toBe(written[0])
  expect(written[2]).toBe(written[0])
})
