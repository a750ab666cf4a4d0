import { describe, expect, test } from 'vitest'
import { judgementShare, turningInputs, wideScenario } from '../../src/analysis/comparison/unmeasured.ts'
import type { SwingCosts } from '../../src/analysis/sensitivity/swings.ts'
import type { Known } from '../../src/scenario/model/assumption.ts'
import type { Scenario } from '../../src/scenario/model.ts'
import { parameterSetsOf } from '../../src/simulation/parameter-sets.ts'
import { first, play, read, single, world } from '../worlds.ts'

const SETS_OF_A_BLOCK = 50
const PER_SET = 20

/** Two options of which prices are ranges; `grades` says how well each range is known. */
async function priced(grades: readonly Known[]): Promise<Scenario> {
  const scenario = await read(
    world([
      single({ replacement: { parts: { low: 500, high: 2000 } } }, { yearly_cost: { low: 10, high: 40 } }, 'One'),
      single({}, {}, 'Other'),
    ]),
  )
  expect(scenario.unknowns).toHaveLength(grades.length)
  return { ...scenario, unknowns: scenario.unknowns.map((input, i) => ({ ...input, known: grades[i] ?? 'yours' })) }
}

describe('K4: share of what is not known that rests on judgement', () => {
  test('K4: a figure that moves 3 by a judged input and 1 by one of the user rests on judgement for 9 parts of 10', async () => {
    const scenario = await priced(['judgement', 'yours'])
    const sets = [0, 1, 2, 3].flatMap(block => parameterSetsOf(scenario, 7, 'random').ofBlock(block, SETS_OF_A_BLOCK))
    const figures = Float64Array.from({ length: sets.length * PER_SET }, (_, draw) => {
      const [judged = 0, mine = 0] = sets[Math.floor(draw / PER_SET)]?.scores ?? []
      return 100 + 3 * judged + mine
    })
    const share = judgementShare(scenario, [0], sets, figures, PER_SET)
    expect(share).toBeGreaterThan(0.87)
    expect(share).toBeLessThan(0.93)
  })

  test('K4: with nothing judged it is 0, with all judged 1, with nothing unknown there is none', async () => {
    const some = async (grades: readonly Known[]) => {
      const scenario = await priced(grades)
      const sets = parameterSetsOf(scenario, 7, 'random').ofBlock(0, SETS_OF_A_BLOCK)
      const figures = Float64Array.from(
        { length: sets.length * PER_SET },
        (_, draw) => sets[Math.floor(draw / PER_SET)]?.scores[0] ?? 0,
      )
      return judgementShare(scenario, [0], sets, figures, PER_SET)
    }
    expect(await some(['yours', 'published'])).toBe(0)
    expect(await some(['judgement', 'judgement'])).toBe(1)
    const plain = await read(world([single({}, {}, 'One')]))
    expect(judgementShare(plain, [0], [], new Float64Array(0), PER_SET)).toBeNull()
  })
})

describe('K4: grade of a verdict', () => {
  const costs = (middle: number, ends: readonly (readonly [number, number, number])[] = []): SwingCosts => ({
    middle,
    ends: new Map(ends.map(([unknown, low, high]) => [unknown, { low, high }])),
  })

  /** Grades of the inputs that change the sign, in order; each is named. */
  const turning = (...args: Parameters<typeof turningInputs>) =>
    turningInputs(...args).map(({ input, known }) => {
      expect(input).toMatch(/\w/)
      return known
    })

  test('K4: the inputs that alone change the sign, the worst known first', async () => {
    const scenario = await priced(['judgement', 'yours'])
    const cheap = costs(1000)
    // the judged input takes 1,100 to 1,050 and 1,400: never under 1,000; the user's own to 900
    expect(turning(scenario, costs(1100, [[0, 1050, 1400]]), cheap)).toEqual([])
    expect(turning(scenario, costs(1100, [[1, 900, 1400]]), cheap)).toEqual(['yours'])
    const both = costs(1100, [
      [1, 900, 1400],
      [0, 990, 1400],
    ])
    expect(turning(scenario, both, cheap)).toEqual(['judgement', 'yours'])
  })

  test('K4: an input of both options changes the sign by its difference', async () => {
    const scenario = await priced(['judgement', 'yours'])
    expect(turning(scenario, costs(1100, [[0, 600, 1600]]), costs(1000, [[0, 500, 1500]]))).toEqual([])
    expect(turning(scenario, costs(1100, [[0, 600, 1600]]), costs(1000, [[0, 700, 1500]]))).toEqual(['judgement'])
  })
})

describe('K4: the wide run', () => {
  test('K4: judged ranges lie 1.5 times as far from their middle on their own scale; those of the user stay', async () => {
    const scenario = await priced(['judgement', 'yours'])
    const wide = wideScenario(scenario)
    expect(wide).not.toBeNull()
    const ordinary = first(parameterSetsOf(scenario, 3, 'random').ofBlock(0, SETS_OF_A_BLOCK))
    const wider = first(parameterSetsOf(wide ?? scenario, 3, 'random').ofBlock(0, SETS_OF_A_BLOCK))
    expect(wider.scores[0]).toBe(1.5 * (ordinary.scores[0] ?? 0))
    expect(wider.scores[1]).toBe(ordinary.scores[1])
    expect(wider.uniforms).toEqual(ordinary.uniforms)
  })

  test('K4: without anything judged there is no wide run', async () => {
    expect(wideScenario(await priced(['yours', 'published']))).toBeNull()
  })

  test('K4: a spread of models that is the default is judged and 1.5 times as large; one the user states stays', async () => {
    const failure = { shape: 3, characteristic_life_years: 12 }
    const scenario = await read(
      world([single({ failure }, {}, 'Judged'), single({ failure: { ...failure, model_spread: 0.5 } }, {}, 'Stated')]),
    )
    const spreads = (wideScenario(scenario)?.options ?? []).map(option => option.populations[0]?.failure.modelSpread)
    expect(spreads).toEqual([0.75, 0.5])
  })

  test('K4: in a run every pair has its verdict of the wide run, and the ordinary one from the same draws', async () => {
    const failure = { shape: 3, characteristic_life_years: 12 }
    const results = await play(
      world([single({ failure }, {}, 'One'), single({ failure }, { upfront_cost: 9000 }, 'Other')]),
      { draws: 5000 },
    )
    const pair = first(results.comparisons)
    expect(pair.wideRun?.draws).toBe(4000)
    expect(pair.wideRun?.ordinaryVerdict).toBe('does not pay back')
    expect(pair.wideRun?.verdict).toBe('does not pay back')
    expect(pair.verdictGrade).toBeNull()
    expect(pair.turnedBy).toEqual([])
    // the spread of models is all that is not known, and is judged
    expect(pair.varianceShares.judgementShare).toBe(1)
  })
})
