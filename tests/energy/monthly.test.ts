import { describe, expect, test } from 'vitest'
import { calendarOf } from '../../src/energy/calendar.ts'
import { energyFromMonths } from '../../src/energy/monthly.ts'
import type { MonthlyGeneration } from '../../src/scenario/model.ts'
import { stringOption } from './roofs.ts'

const monthlyKwh = [310, 440, 700, 850, 960, 980, 1000, 900, 720, 500, 330, 260]
const designLosses = { mismatchAndShade: 0.06, clipping: 0.01, conversion: 0.02 }
const quoted = { ...stringOption(5), designLosses }
const other = { ...stringOption(5), designLosses: { mismatchAndShade: 0.01, clipping: 0.03, conversion: 0 } }

function generation(changes: Partial<MonthlyGeneration> = {}): MonthlyGeneration {
  return { form: 'monthly', monthlyKwh, asQuotedFor: 0, includesDowntime: 0.02, degradation: 0.005, ...changes }
}

describe('twelve kWh: anchor and difference', () => {
  const [ofQuoted, ofOther] = energyFromMonths(generation(), [quoted, other], calendarOf(1, 2))

  test('the quoted option gives its quote back, with the downtime the quote had taken off', () => {
    monthlyKwh.forEach((kwh, month) => {
      expect(ofQuoted?.deliverableKwh[month]).toBeCloseTo(kwh / 0.98, 9)
    })
  })

  test('its own losses are backed out once: ideal = quoted / (1 − 9 %) / (1 − 2 %)', () => {
    expect(ofQuoted?.idealKwh[0]).toBeCloseTo(310 / 0.91 / 0.98, 9)
    expect(ofOther?.idealKwh).toEqual(ofQuoted?.idealKwh)
  })

  test('another option differs by its own losses only', () => {
    expect((ofOther?.deliverableKwh[6] ?? 0) / (ofQuoted?.deliverableKwh[6] ?? 1)).toBeCloseTo(0.96 / 0.91, 12)
    expect(ofOther?.designLossKwh.clipping[6]).toBeCloseTo(0.03 * (ofQuoted?.idealKwh[6] ?? 0), 9)
  })

  test('without a quoted option the twelve are ideal but for downtime', () => {
    const [plain] = energyFromMonths(generation({ asQuotedFor: null }), [quoted], calendarOf(1, 1))
    expect(plain?.idealKwh[0]).toBeCloseTo(310 / 0.98, 9)
    expect(plain?.deliverableKwh[0]).toBeCloseTo((310 / 0.98) * 0.91, 9)
  })
})
