import { parse } from 'csv-parse/sync'
import { describe, expect, test } from 'vitest'
import type { Results } from '../../src/analysis/results.ts'
import { NonFiniteError } from '../../src/errors.ts'
import { comparisonsCsv, reserveCsv, yearlyCsv } from '../../src/report/estimate/write-csv.ts'
import { homeResults, quietResults } from './fixture.ts'

const rows = (csv: string): Record<string, string>[] => parse(csv, { columns: true })

describe('CSV files', () => {
  test('yearly.csv has one row an option and year, with every digit', () => {
    const home = homeResults()
    const read = rows(yearlyCsv(home))
    expect(read.length).toBe(4 * 25)
    const row = read[25 + 13]
    const b = home.options[1]
    expect(row?.option).toBe('B')
    expect(row?.year).toBe('13')
    expect(Number(row?.failures)).toBe(b?.failuresByYear[13])
    expect(Number(row?.cumulativeCashP95)).toBe(b?.cumulativeCash.p95[13])
    expect(Number(row?.balanceP10)).toBe(b?.balanceByYear.p10[13])
    expect(Number(row?.effectiveCover)).toBe(b?.coverByYear.effective[13])
    expect(Number(row?.atLeastOneFailureByEnd)).toBe(b?.failures.atLeastOneByYear[14])
  })
  test('a year without failures leaves the covers empty', () => {
    const row = rows(yearlyCsv(quietResults()))[0]
    expect([row?.paperCover, row?.effectiveCover, row?.failures]).toEqual(['', '', '0'])
  })
  test('reserve.csv has one row an option, comparisons.csv one a pair', () => {
    const home = homeResults()
    expect(rows(reserveCsv(home)).map(row => Number(row.contributionPerYear))).toEqual(
      home.options.map(option => option.reserve.contributionPerYear),
    )
    const pairs = rows(comparisonsCsv(home))
    expect(pairs.length).toBe(6)
    expect(pairs[0]?.sameReliabilityDifference).toBe('95')
    expect(pairs[1]?.sameReliabilityDifference).toBe('')
    expect(comparisonsCsv(quietResults()).split('\r\n').length).toBe(2)
  })
  test.each(['=1+1', '+1', '-1', '@SUM(A1)', '\t=1', '\r=1', ' =1', '\uff1d1'])(
    'a name that a spreadsheet would run is text: %j',
    name => {
      const home = homeResults()
      const named: Results = { ...home, options: home.options.map(option => ({ ...option, name })) }
      expect(rows(reserveCsv(named))[0]?.name).toBe(`'${name.replace('\r', '␍')}`)
    },
  )
  test('names with commas, quotes and line ends come back whole', () => {
    const home = homeResults()
    const name = 'A "good", long\nname'
    const named: Results = { ...home, options: home.options.map(option => ({ ...option, name })) }
    expect(rows(yearlyCsv(named))[0]?.name).toBe(name)
  })
  test('numbers below zero are numbers, not text', () => {
    const home = homeResults()
    expect(rows(comparisonsCsv(home))[0]?.meanDifference).toBe(String(home.comparisons[0]?.meanDifference))
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
    expect(() => reserveCsv(broken)).toThrow('rule N4: largestYearP90 in row 1')
  })
})
