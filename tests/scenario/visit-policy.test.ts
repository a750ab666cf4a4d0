import { describe, expect, test } from 'vitest'
import { type Block, option, read, unit, world } from '../worlds.ts'

const PANELS = 20
const WAITS = { waitForUnits: 2, waitAtMostDays: 365 }

/** An option of which the policy is left out, whatever else it holds. */
function without(topology: string, components: readonly Block[], over: Block = {}): Block {
  return option('One', topology, components, { visit_policy: null, ...over })
}
const scenario = (one: Block, panels = PANELS) => read(world([one], { site: { panels } }))
const policy = (one: Block, panels = PANELS) => scenario(one, panels).options[0]?.visitPolicy
const string = unit('string-inverter')

describe('O3a: when a visit comes, where no policy is given', () => {
  test.each([
    ['a unit behind each panel', 'panel-level', [unit('panel-level-unit', { count: 20 })]],
    ['optimisers on all panels', 'string-optimisers', [string, unit('optimiser', { count: 20 })]],
    ['optimisers on some panels', 'string-some-optimisers', [string, unit('optimiser', { count: 3 })]],
    ['units of two panels each, a tenth of the roof', 'panel-level', [unit('panel-level-unit', { count: 10 })]],
    ['units whose share is given', 'panel-level', [unit('panel-level-unit', { count: 2, share: 0.2 })]],
  ] as const)('O3a: %s wait for a second failure, for a year at most', (_, topology, components) => {
    expect(policy(without(topology, components))).toEqual(WAITS)
  })

  test.each([
    ['a string inverter', 'string', [string]],
    ['eight units that carry an eighth each', 'panel-level', [unit('panel-level-unit', { count: 8 })]],
    ['units that nobody has to visit', 'panel-level', [unit('panel-level-unit', { count: 20, needs_visit: false })]],
  ] as const)('O3a: %s: a visit each', (_, topology, components) => {
    expect(policy(without(topology, components))).toBeNull()
  })

  test('O3a: an optimiser carries its panel: on eight panels an eighth, a visit each', () => {
    expect(policy(without('string-optimisers', [string, unit('optimiser', { count: 8 })]), 8)).toBeNull()
  })

  test('O3a: the default is listed as judgement with its reason, a policy of the user as theirs', () => {
    const listed = (over: Block) =>
      scenario(without('panel-level', [unit('panel-level-unit', { count: 20 })], over))
        .assumptions.filter(({ key }) => key.includes('visit_policy'))
        .map(({ key, value, known, source }) => [key.replace('One / visit_policy', ''), value, known, source])
    const reason = expect.stringContaining('one failed unit of twenty costs less in a year than a visit')
    expect(listed({})).toEqual([
      ['.wait_for_units', 2, 'judgement', reason],
      ['.wait_at_most_days', 365, 'judgement', reason],
    ])
    expect(listed({ visit_policy: 'each' })).toEqual([['', 'each', 'yours', 'your scenario']])
    expect(listed({ visit_policy: { wait_for_units: 4 } })).toEqual([
      ['.wait_for_units', 4, 'yours', 'your scenario'],
      ['.wait_at_most_days', 365, 'judgement', expect.stringContaining('a year at most')],
    ])
  })

  test('O3a: the word each gives every failure a visit of its own; another word is answered', () => {
    const units = [unit('panel-level-unit', { count: 20 })]
    expect(policy(without('panel-level', units, { visit_policy: 'each' }))).toBeNull()
    expect(() => policy(without('panel-level', units, { visit_policy: 'sometimes' }))).toThrow(
      'found "sometimes"; allowed: each, or {wait_for_units: 2, wait_at_most_days: 365}',
    )
  })
})
