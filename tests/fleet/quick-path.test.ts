import { describe, expect, test } from 'vitest'
import { COLUMNS } from '../../src/fleet/fleet-sums.ts'
import { DenseAges } from '../../src/numerics/dense-ages.ts'
import { ageAtHazard, failureMode } from '../../src/numerics/lifetime.ts'
import { homeTemplate, playedChunk, siteTable, writeFleet } from './fleets.ts'

const TEMPLATES: readonly [string, string][] = [
  ['evidence, new-if-bought', homeTemplate()],
  [
    'renewed cover that pays in part and covers visits, yearly cost, money at the start',
    homeTemplate({
      option: 'yearly_cost: 17.35',
      head: 'reserve: {opening: 3000, interest: 2%, confidence: 80%, inflation: 2%}',
    }).replace(
      'labour_years: 2',
      'labour_years: 5, labour: 70%, parts: 80%, replacement_cover: renewed, visits_covered: true',
    ),
  ],
  [
    'remaining cover, surcharge, early deaths, bad batch, roof access, nobody watches',
    homeTemplate({
      component: `successor: {surcharge: 210, chance: {2: 40%, 12: 90%}}
        on_roof: true
        failure: {shape: 0.8, characteristic_life_years: 1.5, bad_batch: {chance: 60%, affects: 50%, life_times: 0.3}}`,
      option: 'monitoring: none',
    }).replace('labour_years: 2', 'labour_years: 2, replacement_cover: remaining, replacement_min_years: 2'),
  ],
  ['survivors counted', homeTemplate({ component: 'failure: {none_failed_so_far: true}' })],
]

describe('the quick path for one inverter gives what the general path gives, to the last bit', () => {
  test.each(TEMPLATES)('%s', async (_, template) => {
    const path = writeFleet(template, siteTable(70))
    const quick = await playedChunk(path, 60)
    const general = await playedChunk(path, 60, true)
    expect(quick.sums.failures.reduce((sum, n) => sum + n, 0)).toBeGreaterThan(100)
    for (const column of COLUMNS) expect(quick.sums[column], column).toEqual(general.sums[column])
    expect(quick.singleVariance).toEqual(general.singleVariance)
    expect(quick.lines).toBe(general.lines)
  })
})

const wearOut = failureMode('wear-out', 1, 3.5, 17)
const early = failureMode('early', 0.03, 0.7, 1)
const chance = failureMode('chance', 1, 1, 90)

describe('M1: dense tables of ages', () => {
  test.each([
    ['three modes', [early, chance, wearOut]],
    ['one mode', [wearOut]],
    ['steep', [chance, failureMode('wear-out', 1, 12, 15)]],
    ['so steep that ages are solved for', [chance, failureMode('wear-out', 1, 4000, 15)]],
  ])('the age at a hazard, within 1e-9: %s', (_, modes) => {
    const ages = new DenseAges(modes, 40)
    for (let i = 0; i < 3000; i++) {
      const level = Math.exp(-11 + (13.5 * i) / 3000)
      expect(Math.abs(ages.at(level) / ageAtHazard(modes, level) - 1)).toBeLessThan(1e-9)
    }
  })

  test('answers do not depend on what was asked before', () => {
    const asked = new DenseAges([early, wearOut], 40)
    for (let i = 1; i < 500; i++) asked.at(i / 100)
    expect(asked.at(0.4321)).toBe(new DenseAges([early, wearOut], 40).at(0.4321))
  })
})
