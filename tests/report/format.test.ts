import { describe, expect, test } from 'vitest'
import { formatAssumption, formatInput, formatInputRange } from '../../src/report/format/input.ts'
import { formatAbout, formatMoney, formatMoneyRange, formatPricePerKwh } from '../../src/report/format/money.ts'
import { formatNumber, roundingStep } from '../../src/report/format/number.ts'
import { formatCount, formatDays, formatEnergy } from '../../src/report/format/quantity.ts'
import {
  formatAvailability,
  formatChance,
  formatLifetimes,
  formatOfHundred,
  formatShare,
  formatSplit,
} from '../../src/report/format/share.ts'

const plain = (text: string): string => text.replace(/\u00a0/g, ' ')

describe('format', () => {
  test('money keeps no digit below twice its standard error', () => {
    expect(plain(formatMoney(11237, 37, 'EUR'))).toBe('EUR 11,240')
    expect(plain(formatMoney(11237, 4, 'EUR'))).toBe('EUR 11,237')
    expect(plain(formatMoney(11237, 51, 'EUR'))).toBe('EUR 11,200')
    expect(plain(formatMoney(6900, 0, 'EUR'))).toBe('EUR 6,900')
  })
  test('money without a standard error keeps two significant digits', () => {
    expect(plain(formatMoney(1874, null, 'USD'))).toBe('USD 1,900')
    expect(plain(formatMoney(87.4, null, 'USD'))).toBe('USD 87')
    expect(plain(formatMoney(0, null, 'USD'))).toBe('USD 0')
  })
  test('a figure below zero has a true minus sign, and nothing is ever minus zero', () => {
    expect(plain(formatMoney(-583, 14, 'EUR'))).toBe('EUR \u2212580')
    expect(formatNumber(-0.2, 1)).toBe('0')
  })
  test('a range says "to" and rounds both ends alike', () => {
    expect(plain(formatMoneyRange(-123, 4811, 14, 'EUR'))).toBe('EUR \u2212120 to 4,810')
    expect(plain(formatMoneyRange(7001, 7002, 14, 'EUR'))).toBe('EUR 7,000')
  })
  test('the step is a power of ten', () => {
    expect(roundingStep(1, 5, 1)).toBe(10)
    expect(roundingStep(1, 4.9, 1)).toBe(1)
    expect(roundingStep(1, 50, 1)).toBe(100)
  })
  test('a share that is almost nothing or almost all says so', () => {
    expect([0, 0.001, 0.344, 0.999, 1].map(share => plain(formatShare(share)))).toEqual([
      '0 %',
      'under 1 %',
      '34 %',
      'over 99 %',
      '100 %',
    ])
    expect([0, 0.001, 0.344, 0.999, 1].map(share => plain(formatOfHundred(share)))).toEqual([
      'fewer than 1 of 100',
      'fewer than 1 of 100',
      '34 of 100',
      'more than 99 of 100',
      'more than 99 of 100',
    ])
    // a sample in which it never fails to come is no certainty: this said 100 of 100
    expect([0, 0.344, 1].map(share => plain(formatChance(share)))).toEqual(['under 1 %', '34 %', 'over 99 %'])
    expect(plain(formatAvailability(0.99621))).toBe('99.62 %')
  })
  test('lifetimes are so many of ten where that is exact', () => {
    expect([0.9, 0.8, 0.95, 0.1, 1].map(share => plain(formatLifetimes(share)))).toEqual([
      '9 of 10',
      '8 of 10',
      '95 of 100',
      '1 of 10',
      'more than 99 of 100',
    ])
  })
  test('counts, days, energy and prices', () => {
    expect(formatCount(1.437, 0.008)).toBe('1.4')
    expect(formatCount(0.874, 0.008)).toBe('0.87')
    expect(plain(formatDays(41.2))).toBe('41 days')
    expect(plain(formatDays(1))).toBe('1.0 day')
    expect(plain(formatEnergy(1237, 21))).toBe('1,240 kWh')
    expect(plain(formatEnergy(1237, null))).toBe('1,240 kWh')
    expect(plain(formatPricePerKwh(0.0931, 'EUR'))).toBe('EUR 0.093 per kWh')
  })
  test('inputs keep their unit, shares become per cent, a currency is put in front', () => {
    expect(plain(formatInput(0.12, 'share'))).toBe('12 %')
    expect(plain(formatInput(0.03, 'share per year'))).toBe('3 % per year')
    expect(plain(formatInput(0.31, 'EUR per kWh'))).toBe('EUR 0.31 per kWh')
    expect(plain(formatInput(12.5, 'years'))).toBe('12.5 years')
    expect(plain(formatInput(1, 'years'))).toBe('1 year')
    expect(formatInput(1.68, '0 to 2')).toBe('1.68')
    expect(plain(formatInput(0.3118, 'EUR/kWh'))).toBe('EUR 0.3118 per kWh')
    expect(formatInput(null, 'years')).toBe('none')
    expect(formatInput('new-if-bought', '')).toBe('new-if-bought')
    expect(plain(formatInputRange(11, 17, 'years'))).toBe('11 to 17 years')
    expect(plain(formatInputRange(0.01, 0.08, 'share per year'))).toBe('1 to 8 % per year')
    expect(plain(formatInputRange(200, 500, 'EUR'))).toBe('EUR 200 to 500')
    expect(formatInputRange(null, null, '')).toBe('no range')
  })
  test('a sentence gives no more than three digits, and none below twice the standard error', () => {
    expect(plain(formatAbout(8297, 4, 'EUR'))).toBe('EUR 8,300')
    expect(plain(formatAbout(11580, 7, 'EUR'))).toBe('EUR 11,600')
    expect(plain(formatAbout(164, 3, 'EUR'))).toBe('EUR 164')
    expect(plain(formatAbout(1204, 60, 'EUR'))).toBe('EUR 1,200')
    expect(plain(formatAbout(0, 0, 'EUR'))).toBe('EUR 0')
  })
  test('parts of a hundred add up to it: 26, 54 and 21 used to make 101', () => {
    expect(formatSplit([0.2561, 0.5352, 0.2087])).toEqual(['26', '53', '21'])
    expect(formatSplit([1 / 3, 1 / 3, 1 / 3])).toEqual(['34', '33', '33'])
    expect(formatSplit([0.996, 0.004, 0])).toEqual(['more than 99', 'fewer than 1', '0'])
    expect(formatSplit([1, 0, 0])).toEqual(['100', '0', '0'])
  })
  test('what the user wrote is shown as written; the middle of a range and evidence carry three digits', () => {
    expect(plain(formatAssumption({ value: 12345, unit: 'EUR', known: 'yours' }))).toBe('EUR 12,345')
    expect(plain(formatAssumption({ value: 684.1, low: 520, unit: 'EUR', known: 'yours' }))).toBe('EUR 684')
    expect(plain(formatAssumption({ value: 44.92, unit: 'days', known: 'judgement' }))).toBe('44.9 days')
  })
  test('another locale has its own separators', () => {
    expect(plain(formatMoney(11237, 37, 'EUR', 'de-DE'))).toBe('EUR 11.240')
  })
})
