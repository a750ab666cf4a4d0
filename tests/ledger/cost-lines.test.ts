import { expect, test } from 'vitest'
import type { CostLines } from '../../src/analysis/results/option.ts'
import { ACCOUNT_COLUMNS } from '../../src/ledger/accounts.ts'
import { COST_LINE_NAMES, COST_LINES, lifetimeCosts, linesFrom, sumOfLines } from '../../src/ledger/cost-lines.ts'
import { COST_WORDS, SEGMENT_WORDS } from '../../src/report/estimate/cost-words.ts'
import { RESULTS_ORDER } from '../../src/report/estimate/results-order.ts'
import { SUM_COLUMNS } from '../../src/simulation/sums/sum-layout.ts'

test('C7: accounts, sums, results and words hold every line of the list, in its order', () => {
  expect(Object.keys(RESULTS_ORDER.options.costs)).toEqual(COST_LINE_NAMES)
  expect(Object.keys(RESULTS_ORDER.options.costStandardErrors)).toEqual(COST_LINE_NAMES)
  expect(Object.keys(COST_WORDS).sort()).toEqual([...COST_LINE_NAMES].sort())
  for (const line of COST_LINE_NAMES) {
    const { from, segment } = COST_LINES[line]
    const byLifetime = from !== 'purchase' && from !== 'set'
    expect(
      ACCOUNT_COLUMNS.some(column => column === line),
      line,
    ).toBe(byLifetime)
    expect(
      SUM_COLUMNS.some(figure => figure === line),
      line,
    ).toBe(from !== 'purchase')
    if (segment !== null) expect(SEGMENT_WORDS[segment], line).toBeTruthy()
  }
  expect(new Set(SUM_COLUMNS).size).toBe(SUM_COLUMNS.length)
})

test('C7: the bars have no more segments than they have patterns', () => {
  expect(Object.keys(SEGMENT_WORDS).length).toBeLessThanOrEqual(7)
})

test('C7: acquisition is what is bought at the start; energy is what withoutLostEnergy leaves out', () => {
  const lines = Object.fromEntries(COST_LINE_NAMES.map((line, i) => [line, 2 ** i])) as CostLines // all names are there
  expect(sumOfLines(lines, ({ acquisition }) => acquisition)).toBe(lines.upfront + lines.warranty)
  expect(sumOfLines(lines, ({ energy }) => energy)).toBe(
    lines.outageEnergy + lines.designEnergy + lines.batteryOutage + lines.batteryEarnings,
  )
  expect(linesFrom('repairs')).toEqual(['parts', 'labour', 'visits'])
})

test('C7: income is subtracted from the total', () => {
  const total = new Float64Array(2)
  const [repairs, outages, further] = [Float64Array.of(10, 20), Float64Array.of(1, 2), Float64Array.of(-5, -7)]
  lifetimeCosts(1000, repairs, outages, further, 2, total)
  expect([...total]).toEqual([1006, 1015])
})
