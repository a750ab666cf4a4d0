import { expect, test } from 'vitest'
import { TOPOLOGIES } from '../../src/topologies/index.ts'

// 'its strings stop' of a plain string, 'everything stops' of one with optimisers: the same inverter in two lights
test('the same failure is described in the same words, whatever the design', () => {
  const { string, hybrid, 'string-optimisers': all, 'string-some-optimisers': some } = TOPOLOGIES
  for (const { description } of [string, hybrid, all, some])
    expect(description).toContain('When the inverter stops, its panels stop')
  const converter = 'When a converter stops, mostly only its panel stops; the repair is on the roof.'
  for (const { description } of [all, some]) expect(description).toContain(converter)
  expect(TOPOLOGIES['panel-level'].description).toContain('only its panel stops; the repair is on the roof.')
})
