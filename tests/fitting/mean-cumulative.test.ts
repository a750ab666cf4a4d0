import { describe, expect, it } from 'vitest'
import { meanCumulative } from '../../src/fitting/curves/mean-cumulative.ts'
import { reference } from './reference.ts'

const [valve] = reference<{
  mean_cumulative_function: {
    histories: { unit: number; event_ages: number[]; end_age: number }[]
    table: { age: number; units_at_risk: number; events: number; mcf: number; robust_se: number }[]
  }[]
}>('nonparametric').mean_cumulative_function

describe('mean cumulative function', () => {
  it('valve seats: mean number and robust error agree to 1e-12', () => {
    const steps = meanCumulative(
      valve!.histories.map(history => ({ watched: [[0, history.end_age]], failures: history.event_ages, count: 1 })),
    )
    expect(steps).toHaveLength(valve!.table.length)
    valve!.table.forEach((row, i) => {
      expect(steps[i]).toMatchObject({ age: row.age, slotsWatched: row.units_at_risk, failures: row.events })
      expect(steps[i]!.mean).toBeCloseTo(row.mcf, 12)
      expect(steps[i]!.standardError).toBeCloseTo(row.robust_se, 12)
    })
  })

  it('a slot that was not watched for a while does not count in that while', () => {
    const steps = meanCumulative([
      {
        watched: [
          [0, 2],
          [4, 6],
        ],
        failures: [1, 5],
        count: 1,
      },
      { watched: [[0, 6]], failures: [3], count: 1 },
    ])
    expect(steps.map(step => step.slotsWatched)).toEqual([2, 1, 2])
    // Written out: scores of both slots at each age.
    const scores = [
      [0.25, 0.25, 0.25 + 0.25],
      [-0.25, -0.25, -0.25 - 0.25],
    ]
    steps.forEach((step, i) => {
      expect(step.standardError).toBeCloseTo(Math.hypot(scores[0]![i]!, scores[1]![i]!), 12)
    })
  })

  it('equal histories may be counted together', () => {
    const one = { watched: [[0, 5] as const], failures: [2, 3], count: 1 }
    const other = { watched: [[0, 4] as const], failures: [3], count: 1 }
    const apart = meanCumulative([one, one, other])
    const together = meanCumulative([{ ...one, count: 2 }, other])
    together.forEach((step, i) => {
      expect(step.mean).toBeCloseTo(apart[i]!.mean, 14)
      expect(step.standardError).toBeCloseTo(apart[i]!.standardError, 14)
    })
  })
})
