import { describe, expect, test } from 'vitest'
import { CROSS_CHECKS } from '../../src/evidence/cross-checks.ts'
import { EVIDENCE_FIGURES, figureOf, findFigure, weakestOf } from '../../src/evidence/index.ts'
import { EVIDENCE_ROWS, type EvidenceRowKey } from '../../src/evidence/rows.ts'
import { held, SCORED_JUDGEMENTS, scoreSentence } from '../../src/evidence/scored-judgements.ts'
import { SOURCES } from '../../src/evidence/sources.ts'
import { first } from '../worlds.ts'

describe('built-in figures', () => {
  test('each occurs once, in its range, with source and remark', () => {
    const names = EVIDENCE_FIGURES.map(figure => `${figure.row}|${figure.key}`)
    expect(new Set(names).size).toBe(names.length)
    for (const { key, row, value, low, high, source, remark } of EVIDENCE_FIGURES) {
      const where = `${row} ${key}`
      expect(Number.isFinite(value), where).toBe(true)
      expect((low === null) === (high === null), where).toBe(true)
      if (low !== null && high !== null && key !== 'warranty.years' && low !== value) {
        expect(low, where).toBeLessThanOrEqual(value)
        expect(value, where).toBeLessThanOrEqual(high)
      }
      expect(SOURCES[source].text.length, where).toBeGreaterThan(10)
      expect(remark.length, where).toBeGreaterThan(5)
    }
  })

  /** Cumulative hazard of the middle values of a row for a model with multiplier 1. */
  const hazard = (row: EvidenceRowKey, age: number, lifeYears: number): number => {
    const value = (key: string) => figureOf(row, `failure.${key}`).value
    const early =
      1 - value('early.susceptible') * (1 - Math.exp(-((age / value('early.life_years')) ** value('early.shape'))))
    return -Math.log(early) + value('chance.rate_per_year') * age + (age / lifeYears) ** value('wear_out.shape')
  }
  const wearingRows = EVIDENCE_ROWS.filter(row => findFigure(row, 'failure.anchor.share') !== null)

  test('M4: the anchor share of a row is what its middle values give without spread: lives follow', () => {
    expect(wearingRows).toHaveLength(EVIDENCE_ROWS.length - 1)
    for (const row of wearingRows) {
      const value = (key: string) => figureOf(row, `failure.${key}`).value
      const age = value('anchor.age_years')
      const left = -Math.log1p(-value('anchor.share')) - hazard(row, age, Infinity)
      const solved = age / left ** (1 / value('wear_out.shape'))
      // lives are listed to a tenth of a year
      expect(Math.abs(solved - value('wear_out.life_years')), row).toBeLessThanOrEqual(0.05)
    }
  })

  test('anchors have these ages, shares and spreads', () => {
    const anchor = (row: EvidenceRowKey) =>
      ['anchor.age_years', 'anchor.share', 'model_spread'].map(key => figureOf(row, `failure.${key}`).value)
    expect(Object.fromEntries(wearingRows.map(row => [row, anchor(row)]))).toEqual({
      'string-inverter budget': [15, 0.518, 0.5],
      'string-inverter plain': [15, 0.343, 0.5],
      'string-inverter robust': [15, 0.239, 0.5],
      'hybrid-inverter': [15, 0.343, 0.6],
      'panel-level-unit': [24, 0.12, 0.8],
      optimiser: [24, 0.12, 0.8],
      gateway: [10, 0.28, 0.5],
      battery: [15, 0.343, 0.8],
      'battery-inverter': [15, 0.343, 0.8],
    })
  })

  test('M4, J: with the spread on, the plain row passes through its second published point', () => {
    const row = 'string-inverter plain'
    const spread = figureOf(row, 'failure.model_spread').value
    const value = (key: string) => figureOf(row, `failure.${key}`).value
    // life solved with the spread on: H = ((1 - F)^(-c²) - 1) / c²
    const target = ((1 - value('anchor.share')) ** -(spread ** 2) - 1) / spread ** 2
    const without = hazard(row, 15, Infinity)
    const lifeYears = 15 / (target - without) ** (1 / value('wear_out.shape'))
    const failed = 1 - (1 + spread ** 2 * hazard(row, 10, lifeYears)) ** (-1 / spread ** 2)
    const check = first(CROSS_CHECKS.filter(one => one.row === row && one.kind === 'point'))
    expect(failed).toBeGreaterThan(check.low ?? 1)
    expect(failed).toBeLessThan(check.high ?? 0)
  })

  test('a bound is never a middle: no row is at or beyond its bound, and no figure takes its value', () => {
    const bounds = CROSS_CHECKS.filter(one => one.kind === 'upper-bound')
    expect(bounds.map(one => one.row)).toEqual(['panel-level-unit', 'optimiser'])
    for (const { row, ageYears, value } of bounds) {
      // zero failures in ten units, 95 %
      expect(value).toBeCloseTo(1 - 0.05 ** (1 / 10), 3)
      expect(figureOf(row, 'failure.anchor.age_years').value).toBe(ageYears)
      expect(figureOf(row, 'failure.anchor.share').value).toBeLessThan(0.9 * value)
    }
    const bounded = (text: string) => /\bbound\b/.test(text)
    for (const { row, key, remark, value } of EVIDENCE_FIGURES)
      if (bounded(remark))
        expect(
          bounds.every(one => one.value !== value),
          `${row} ${key}`,
        ).toBe(true)
  })

  test('a derived figure has a formula, no other has, and each has its weakest point', () => {
    for (const figure of EVIDENCE_FIGURES) {
      const where = `${figure.row} ${figure.key}`
      expect(figure.formula === null, where).toBe(figure.known !== 'derived')
      expect(weakestOf(figure).length, where).toBeGreaterThan(5)
    }
    const derived = EVIDENCE_FIGURES.filter(({ known }) => known === 'derived').map(({ row, key }) => `${row} ${key}`)
    expect(derived).toContain('panel-level-unit failure.anchor.share')
    expect(derived).toContain('common labour_provider.exit_rate_per_year')
    expect(derived).not.toContain('optimiser failure.anchor.share')
    expect(figureOf('optimiser', 'failure.anchor.share').known).toBe('judgement')
  })

  test('panel-level units and optimisers fail alike: no unmeasured order between them', () => {
    for (const { key, value, low, high } of EVIDENCE_FIGURES.filter(one => one.row === 'panel-level-unit'))
      if (key.startsWith('failure.')) expect(figureOf('optimiser', key), key).toMatchObject({ value, low, high })
  })

  test('our own judgements, scored: of the seven compared with data, five lay within', () => {
    expect(SCORED_JUDGEMENTS.map(held)).toEqual([true, true, true, true, true, false, false])
    expect(scoreSentence()).toBe('Of 7 of our judgements that a later source could check, 5 lay within their range.')
  })

  test('U1b: every range that is drawn can be drawn: inside its domain', () => {
    for (const { key, low, high, unit } of EVIDENCE_FIGURES)
      if (low !== null && high !== null && !key.includes('growth')) {
        expect(low, key).toBeGreaterThan(0)
        if (unit === 'share') expect(high, key).toBeLessThan(1)
      }
  })

  test('only judged figures call themselves judgement', () => {
    for (const figure of EVIDENCE_FIGURES)
      if (figure.source === 'judgement') expect(figure.known, figure.key).toBe('judgement')
    expect(figureOf('string-inverter plain', 'failure.anchor.share')).toMatchObject({
      value: 0.343,
      known: 'published',
    })
  })

  test('a row without a figure takes the common one; none is null', () => {
    expect(findFigure('gateway', 'failure.model_spread')?.value).toBe(0.5)
    expect(findFigure(null, 'failure.anchor.share')).toBeNull()
    expect(() => figureOf(null, 'failure.anchor.share')).toThrow(RangeError)
  })
})
