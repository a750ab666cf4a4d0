import { describe, expect, it } from 'vitest'
import { kaplanMeier, survivalLimits } from '../../src/fitting/curves/kaplan-meier.ts'
import { turnbull } from '../../src/fitting/curves/turnbull.ts'
import { rowsOf } from '../../src/fitting/rows.ts'
import { estimationCases, type ReferenceCase, reference, referenceRows } from './reference.ts'
import { survivalAt } from './survival-at.ts'

interface TableRow {
  time: number
  at_risk: number
  failures: number
  survival: number
  greenwood_se: number
  nelson_aalen: number
  nelson_aalen_se: number
  ci95_loglog: [number, number]
}
const cases = reference<{ kaplan_meier: { id: string; rows: ReferenceCase['rows']; table: TableRow[] }[] }>(
  'nonparametric',
).kaplan_meier

describe('Kaplan–Meier and Nelson–Aalen', () => {
  it.each(cases)('$id: survival, Greenwood error, limits and cumulative hazard agree to 1e-10', ({ rows, table }) => {
    const steps = kaplanMeier(referenceRows(rows))
    expect(steps).toHaveLength(table.length)
    table.forEach((row, i) => {
      const step = steps[i]!
      expect(step).toMatchObject({ age: row.time, atRisk: row.at_risk, failures: row.failures })
      expect(step.survival).toBeCloseTo(row.survival, 12)
      expect(step.standardError).toBeCloseTo(row.greenwood_se, 12)
      expect(step.cumulativeHazard).toBeCloseTo(row.nelson_aalen, 12)
      expect(step.cumulativeHazardError).toBeCloseTo(row.nelson_aalen_se, 12)
      const [low, high] = survivalLimits(step.survival, step.standardError, 0.95)
      expect(low).toBeCloseTo(row.ci95_loglog[0], 9)
      expect(high).toBeCloseTo(row.ci95_loglog[1], 9)
    })
  })

  it('a late-watched unit is at risk only after the age it was first watched', () => {
    const steps = kaplanMeier(
      rowsOf([
        { afterAge: 2, beforeAge: 2 },
        { startAge: 2, afterAge: 5, beforeAge: Infinity },
        { startAge: 1, afterAge: 3, beforeAge: 3 },
        { afterAge: 4, beforeAge: Infinity },
      ]),
    )
    expect(steps.map(step => step.atRisk)).toEqual([3, 3])
  })

  it('when the last unit fails survival is 0 and has no error', () => {
    const steps = kaplanMeier(rowsOf([{ afterAge: 1, beforeAge: 1 }]))
    expect(steps[0]).toMatchObject({ survival: 0, standardError: null })
    expect(survivalAt(steps, 0.5)).toBe(1)
    expect(survivalAt(steps, 1)).toBe(0)
  })
})

describe('Turnbull', () => {
  it.each(cases)('$id: is Kaplan–Meier where every failure is exact', ({ rows }) => {
    const columns = referenceRows(rows)
    const exact = kaplanMeier(columns)
    const found = turnbull(columns)
    expect(found.map(step => step.age)).toEqual(exact.map(step => step.age))
    found.forEach((step, i) => {
      expect(step.survival).toBeCloseTo(exact[i]!.survival, 8)
    })
  })

  it('is Kaplan–Meier for late-watched units too', () => {
    const columns = rowsOf([
      { afterAge: 2, beforeAge: 2, count: 3 },
      { startAge: 1, afterAge: 3, beforeAge: 3, count: 2 },
      { startAge: 2.5, afterAge: 4, beforeAge: 4, count: 2 },
      { afterAge: 4.5, beforeAge: Infinity, count: 5 },
      { startAge: 1, afterAge: 6, beforeAge: 6 },
      { startAge: 3, afterAge: 7, beforeAge: Infinity, count: 3 },
    ])
    const exact = kaplanMeier(columns)
    turnbull(columns).forEach((step, i) => {
      expect(step.survival).toBeCloseTo(exact[i]!.survival, 8)
    })
  })

  it('turbine cracks: inspections that do not overlap give the plain shares', () => {
    const rows = estimationCases.find(({ id }) => id === 'turbine_cracks_interval')!.rows
    const found = turnbull(referenceRows(rows))
    const counts = [5, 16, 12, 18, 18, 2, 6, 17]
    expect(found.map(step => Math.round(step.mass * 167 * 1e8) / 1e8)).toEqual(counts)
  })

  it('overlapping inspections: the masses satisfy the condition of self-consistency', () => {
    const lives = [
      { afterAge: 0, beforeAge: 4, count: 3 },
      { afterAge: 2, beforeAge: 6, count: 4 },
      { afterAge: 3, beforeAge: 5, count: 2 },
      { afterAge: 5, beforeAge: Infinity, count: 3 },
    ]
    const found = turnbull(rowsOf(lives))
    const inside = (life: (typeof lives)[number], cell: (typeof found)[number]) =>
      cell.afterAge >= life.afterAge && cell.age <= life.beforeAge
    const beyond = 1 - found.reduce((sum, cell) => sum + cell.mass, 0)
    for (const cell of found) {
      let gain = 0
      for (const life of lives) {
        if (!inside(life, cell)) continue
        const total =
          found.filter(other => inside(life, other)).reduce((sum, other) => sum + other.mass, 0) +
          (life.beforeAge === Infinity ? beyond : 0)
        gain += life.count / total
      }
      expect(gain / 12).toBeCloseTo(1, 6)
    }
  })
})
