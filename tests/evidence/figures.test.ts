import { describe, expect, test } from 'vitest'
import { EVIDENCE_ROWS } from '../../src/evidence/figure.ts'
import { FIGURES, figureOf, findFigure } from '../../src/evidence/index.ts'
import { SOURCES } from '../../src/evidence/sources.ts'

describe('built-in figures', () => {
  test('each stands once, in its range, with source and remark', () => {
    const names = FIGURES.map(figure => `${figure.row}|${figure.key}`)
    expect(new Set(names).size).toBe(names.length)
    for (const { key, row, value, low, high, source, remark } of FIGURES) {
      const where = `${row} ${key}`
      expect(Number.isFinite(value), where).toBe(true)
      expect((low === null) === (high === null), where).toBe(true)
      if (low !== null && high !== null && key !== 'warranty.years' && low !== value) {
        expect(low, where).toBeLessThanOrEqual(value)
        expect(value, where).toBeLessThanOrEqual(high)
      }
      expect(SOURCES[source].length, where).toBeGreaterThan(10)
      expect(remark.length, where).toBeGreaterThan(5)
    }
  })

  test('M4: the anchor share of a row is what its middle values give without spread', () => {
    for (const row of EVIDENCE_ROWS) {
      const value = (key: string) => figureOf(row, `failure.${key}`).value
      const age = value('anchor.age_years')
      const early =
        1 - value('early.susceptible') * (1 - Math.exp(-((age / value('early.life_years')) ** value('early.shape'))))
      const wear = Math.exp(-((age / value('wear_out.life_years')) ** value('wear_out.shape')))
      const failed = 1 - early * Math.exp(-value('chance.rate_per_year') * age) * wear
      // The shares of the design are rounded to 0.1 %; lives to half a year at most.
      expect(Math.abs(failed - value('anchor.share')), row).toBeLessThan(0.002)
    }
  })

  test('U1b: every range that is drawn can be drawn: inside its domain', () => {
    for (const { key, low, high, unit } of FIGURES)
      if (low !== null && high !== null && !key.includes('growth')) {
        expect(low, key).toBeGreaterThan(0)
        if (unit === 'share') expect(high, key).toBeLessThan(1)
      }
  })

  test('only judged figures call themselves judgement', () => {
    for (const figure of FIGURES) if (figure.source === 'judgement') expect(figure.known, figure.key).toBe('judgement')
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
