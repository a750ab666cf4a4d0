import { describe, expect, test } from 'vitest'
import { faultOfNumber, numberAsTyped } from '../../src/cli/ask/prompts.ts'
import { oddCapacity, oddRating, oddYear, tooCheap, tooDear } from '../../src/scenario/notes/plausible.ts'

describe('numbers as people type them', () => {
  test.each([
    ['8 kW', 8],
    ['0,30', 0.3],
    ['30 ct', 0.3],
    ['12 years', 12],
    ['10 900', 10900],
    ["10'900", 10900],
    ['€ 6900', 6900],
    ['430 W', 430],
    ['48,2', 48.2],
    ['-33.9', -33.9],
    ['9400 kWh', 9400],
  ])('%s is %f', (typed, value) => {
    expect(numberAsTyped(typed)).toBeCloseTo(value, 12)
  })

  test.each(['', 'many', '1-2', '8 kW or 10', '10.900', '10,900', '1.2.3'])('%s is no number', typed => {
    expect(numberAsTyped(typed)).toBeNaN()
  })

  test('a point before three digits is asked again, as it may separate thousands', () => {
    expect(faultOfNumber('10.900', { least: 0, most: 1e9 })).toBe('write 10900, or 10.9')
    expect(faultOfNumber('10,900 €', { least: 0, most: 1e9 })).toBe('write 10900, or 10.9')
    expect(faultOfNumber('2.5', { least: 1, most: 9, whole: true })).toBe('write a whole number from 1 to 9')
  })
})

describe('what cannot be right is asked again', () => {
  const roof = { panels: 24, panelKw: 0.43, importPrice: 0.3 }
  test('24 kWh a year, or 430 panels', () => {
    expect(oddYear(24, 24)).toContain('is 1 kWh for each; usual is 150 to 900')
    expect(oddYear(9400, 430)).toContain('22 kWh for each')
    expect(oddYear(9400, 24)).toBeUndefined()
  })
  test('cents instead of euros', () => {
    expect(tooDear(8, 0.3)).toBe('that is 27 times what you buy at: write it in the same money, such as 0.08')
    expect(tooDear(0.08, 0.3)).toBeUndefined()
    expect(tooDear(8, null)).toBeUndefined()
  })
  test('a price in thousands', () => {
    expect(tooCheap(10.9, roof)).toContain('write the whole price')
    expect(tooCheap(8000, roof)).toBeUndefined()
    expect(tooCheap(0, roof)).toBeUndefined()
  })
  test('watts for kilowatts', () => {
    expect(oddRating(8000, roof)).toBe('an inverter of 8000 kW for 10 kW of panels? Write its rating in kW')
    expect(oddRating(8, roof)).toBeUndefined()
    expect(oddCapacity(10_000, roof)).toContain('write it in kWh')
    expect(oddCapacity(10, roof)).toBeUndefined()
  })
})
