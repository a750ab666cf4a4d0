import { expect, test } from 'vitest'
import { renderReport } from '../../src/report/estimate/render-estimate.ts'
import { homeResults } from './fixture-home.ts'

const page = (driverSets: number, parameterSets: number): string =>
  renderReport({ ...homeResults(), driverSets, parameterSets }, { audience: 'buyer', command: 'lifetally' })

test('X2: shares of drivers from fewer sets than the run has say so, and only they', () => {
  const words = /From the first ([\d,]+) of the ([\d,]+) sets of assumptions/
  expect(words.exec(page(2000, 50_000))?.slice(1)).toEqual(['2,000', '50,000'])
  expect(page(1000, 1000)).not.toMatch(words)
})
