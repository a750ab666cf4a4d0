import { parse } from 'csv-parse/sync'
import { describe, expect, test } from 'vitest'
import type { Results } from '../../src/analysis/results.ts'
import { NonFiniteError } from '../../src/errors.ts'
import { comparisonsCsv, reserveCsv, yearlyCsv } from '../../src/report/estimate/write-csv.ts'
import { homeResults, quietResults } from './fixture.ts'

const rows = (csv: string): Record<string, string>[] => parse(csv, { columns: true })

describe('CSV files', () => {
  const near = (cell: string | undefined, value: number | null | undefined): void => {
    expect(Math.abs(Number(cell) - (value ?? Number.NaN))).toBeLessThanOrEqual(0.005 * Math.abs(value ?? 0))
  }

  test('yearly.csv has one row an option and year, in plain words and three digits', () => {
    const home = homeResults()
    const read = rows(yearlyCsv(home))
    expect(read.length).toBe(4 * 25)
    const row = read[25 + 13]
    const b = home.options[1]
    expect([row?.Option, row?.Year]).toEqual(['B', '14'])
    near(row?.Failures, b?.failuresByYear[13])
    near(row?.['Paid so far, 19 in 20 stay under'], b?.cumulativeCash.p95[13])
    near(row?.['Balance, 1 in 10 below'], b?.balanceByYear.p10[13])
    near(row?.['Bill spared, share'], b?.coverByYear.effective[13])
    near(row?.['Share of lifetimes with a failure by its end'], b?.failures.atLeastOneByYear[14])
    for (const { Option: _, Name: __, Year: ___, ...figures } of read)
      for (const cell of Object.values(figures)) expect(Number(Number(cell).toPrecision(3))).toBe(Number(cell))
  })
  test('a year without failures leaves the covers empty', () => {
    const row = rows(yearlyCsv(quietResults()))[0]
    expect([row?.['Parts promised, share'], row?.['Bill spared, share'], row?.Failures]).toEqual(['', '', '0'])
  })
  test('reserve.csv has one row an option, comparisons.csv one a pair', () => {
    const home = homeResults()
    const reserves = rows(reserveCsv(home))
    expect(reserves.length).toBe(home.options.length)
    home.options.forEach(({ reserve }, place) => {
      near(reserves[place]?.['Level deposit alone, a year'], reserve.contributionPerYear)
      near(reserves[place]?.['Have ready'], reserve.twoPart.ready)
    })
    const pairs = rows(comparisonsCsv(home))
    expect(pairs.length).toBe(6)
    const alike = home.comparisons[0]?.withTierEffect0
    const said = Number(pairs[0]?.['Difference if both failed alike'])
    expect(Math.abs(said - (alike?.meanDifference ?? 0))).toBeLessThanOrEqual(alike?.standardError ?? 0)
    expect(pairs[1]?.['Difference if both failed alike']).toBe('')
    expect(comparisonsCsv(quietResults()).split('\r\n').length).toBe(2)
  })
  test('a figure with an error is rounded to the place of twice that error', () => {
    const home = homeResults()
    const [first] = home.comparisons
    if (first === undefined) throw new Error('no pair')
    const pair = { ...first, meanDifference: -1234.567, standardError: 6.3 }
    const row = rows(comparisonsCsv({ ...home, comparisons: [pair] }))[0]
    expect([row?.['Lifetime difference, mean'], row?.['Standard error']]).toEqual(['-1230', '6.3'])
  })
  test.each(['=1+1', '+1', '-1', '@SUM(A1)', '\t=1', '\r=1', ' =1', '\uff1d1'])(
    'a name that a spreadsheet would run is text: %j',
    name => {
      const home = homeResults()
      const named: Results = { ...home, options: home.options.map(option => ({ ...option, name })) }
      expect(rows(reserveCsv(named))[0]?.Name).toBe(`'${name.replace('\r', '␍')}`)
    },
  )
  test('names with commas, quotes and line ends come back whole', () => {
    const home = homeResults()
    const name = 'A "good", long\nname'
    const named: Results = { ...home, options: home.options.map(option => ({ ...option, name })) }
    expect(rows(yearlyCsv(named))[0]?.Name).toBe(name)
  })
  test('numbers below zero are numbers, not text', () => {
    const home = homeResults()
    expect(rows(comparisonsCsv(home))[0]?.['Lifetime difference, mean']).toMatch(/^-\d/)
    expect(home.comparisons[0]?.meanDifference).toBeLessThan(0)
  })
  test('N4 a figure that is not finite stops the run', () => {
    const home = homeResults()
    const broken: Results = {
      ...home,
      options: home.options.map(option => ({
        ...option,
        largestYear: { ...option.largestYear, p90: Number.POSITIVE_INFINITY },
      })),
    }
    expect(() => reserveCsv(broken)).toThrow(NonFiniteError)
    expect(() => reserveCsv(broken)).toThrow('rule N4: Largest bill of a year, 9 in 10 stay under in row 1')
  })
})
