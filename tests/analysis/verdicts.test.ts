import { describe, expect, test } from 'vitest'
import {
  type Compared,
  comparePairs,
  NO_NULL_CASES,
  type PlainComparison,
} from '../../src/analysis/comparison/comparison.ts'
import { first } from '../worlds.ts'

const PER_SET = 20
const column = (id: string, upfrontCost: number, costs: ArrayLike<number>, over: Partial<Compared> = {}): Compared => ({
  id,
  upfrontCost,
  lifetimeCost: Float64Array.from(costs),
  sharp: null,
  presentByYear: new Float64Array(4),
  acquisition: upfrontCost,
  job: { battery: 'none', later: [] },
  battery: { earnings: 0, outage: 0, days: 0 },
  ...over,
})

/** The dearer option against one of 10,000 a life, by the mean difference of each set. */
function pairOf(differences: readonly number[], cost = 10_000): PlainComparison {
  const draws = differences.flatMap(difference => new Array<number>(PER_SET).fill(cost + difference))
  const against = column('A', 5000, new Array<number>(draws.length).fill(cost))
  return first(comparePairs([against, column('B', 6000, draws)], PER_SET, () => NO_NULL_CASES))
}

/** Ten groups alike, so that the standard error is 0: in each, `below` of 20 sets favour the dearer option. */
const groups = (below: number, gain = -2000, loss = 500): number[] =>
  Array.from({ length: 200 }, (_, set) => (set % 20 < below ? gain : loss))

describe('K3: verdicts', () => {
  test.each([
    [20, 'pays back'],
    [19, 'pays back'],
    [18, 'probably pays back'],
    [15, 'probably pays back'],
    [14, 'too close to call'],
    [6, 'too close to call'],
    [5, 'probably does not pay back'],
    [2, 'probably does not pay back'],
    [1, 'does not pay back'],
    [0, 'does not pay back'],
  ] as const)('K3: %d sets of 20 below 0: %s', (below, verdict) => {
    const pair = pairOf(groups(below))
    expect(pair.standardError).toBe(0)
    expect(pair.chanceBetterOnAverage).toBeCloseTo(below / 20, 12)
    expect(pair.verdict).toBe(verdict)
  })

  test('K3: first, no difference worth naming: all of interval90 within 1 % of the lower cost', () => {
    for (const below of [20, 10, 0]) expect(pairOf(groups(below, -99, 99)).verdict).toBe('no difference worth naming')
    // one end outside is enough
    expect(pairOf(groups(10, -99, 150)).verdict).toBe('too close to call')
    expect(pairOf(groups(20, -101)).verdict).toBe('pays back')
    expect(pairOf(groups(0, 0, 101)).verdict).toBe('does not pay back')
    // the lower of the two costs is the dearer one's here: 10,000 less 100
    expect(pairOf(groups(20, -100)).verdict).toBe('pays back')
  })

  test('K3: then too close to call under 2 standard errors, though every set favours the dearer', () => {
    const oneGroup = Array.from({ length: 200 }, (_, set) => (set < 20 ? -90_000 : -300))
    const pair = pairOf(oneGroup)
    expect(pair.chanceBetterOnAverage).toBe(1)
    expect(Math.abs(pair.meanDifference)).toBeLessThan(2 * pair.standardError)
    expect(pair.verdict).toBe('too close to call')
  })

  test('K3: the chance of one lifetime is separate: ties count half, and the verdict does not depend on it', () => {
    // in each set the dearer loses 100 in 15 lives, ties in 2, gains 12,000 in 3: dearer in most lives, better in every set
    const life = (draw: number): number => (draw % 20 < 15 ? 100 : draw % 20 < 17 ? 0 : -12_000)
    const costs = Array.from({ length: 4000 }, (_, draw) => 10_000 + life(draw))
    const against = column('A', 5000, new Array<number>(4000).fill(10_000))
    const pair = first(comparePairs([against, column('B', 6000, costs)], PER_SET, () => NO_NULL_CASES))
    expect(pair.chanceCheaper).toBeCloseTo(0.2, 12)
    expect(pair.chanceBetterOnAverage).toBe(1)
    expect(pair.verdict).toBe('pays back')
  })

  test('K3: one set: the share is 0, 1, or ½ at exactly 0', () => {
    const of = (difference: number): number => {
      const costs = Array.from({ length: 60 }, (_, draw) => 10_000 + difference + (draw % 2 === 0 ? 50 : -50))
      const against = column('A', 5000, new Array<number>(60).fill(10_000))
      return first(comparePairs([against, column('B', 6000, costs)], 60, () => NO_NULL_CASES)).chanceBetterOnAverage
    }
    expect([of(-1), of(0), of(1)]).toEqual([1, 0.5, 0])
  })
})

describe('K2, K3: pairs of made columns', () => {
  test('K2: break-even premium and interval are the upfront difference less the other, ends swapped', () => {
    const pair = pairOf(groups(10, -700, 300))
    expect(pair.meanDifference).toBeCloseTo(-200, 9)
    expect(pair.breakEvenPremium).toBeCloseTo(1200, 9)
    expect(pair.interval90[0]).toBeCloseTo(-700, 9)
    expect(pair.interval90[1]).toBeCloseTo(300, 9)
    expect(pair.breakEvenInterval90[0]).toBeCloseTo(700, 9)
    expect(pair.breakEvenInterval90[1]).toBeCloseTo(1700, 9)
  })

  test('K2: below 0 it is not worth it even at the cheaper one’s price', () => {
    expect(pairOf(groups(0, 0, 1500)).breakEvenPremium).toBeCloseTo(-500, 9)
  })

  test('K3: aheadFromYear is the year from which on the dearer stays lower; a lead that is lost again does not count', () => {
    const costs = new Array<number>(20).fill(1)
    const from = (...gaps: number[]): number | null => {
      const over = { presentByYear: Float64Array.from(gaps) }
      const flat = { presentByYear: new Float64Array(gaps.length) }
      return first(
        comparePairs([column('A', 5000, costs, flat), column('B', 6000, costs, over)], 20, () => NO_NULL_CASES),
      ).aheadFromYear
    }
    // 1,000 behind at the start
    expect(from(-400, -400, -400, -400)).toBe(2)
    expect(from(-1100, 200, -200, 0)).toBe(2)
    expect(from(-1100, 0, 0, 200)).toBeNull()
    expect(from(-500, -500, 0, 0)).toBeNull()
  })

  test('K2: the null case compares the dearer with the cheaper, however they are listed', () => {
    const asked: string[] = []
    const [cheap, dear] = [column('A', 5000, [1, 2]), column('B', 6000, [1, 2])]
    comparePairs([cheap, dear], 2, (option, against) => {
      asked.push(`${option} ${against}`)
      return NO_NULL_CASES
    })
    comparePairs([dear, cheap], 2, (option, against) => {
      asked.push(`${option} ${against}`)
      return NO_NULL_CASES
    })
    expect(asked).toEqual(['1 0', '0 1'])
  })
})
