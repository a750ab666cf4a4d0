import { expect, test } from 'vitest'
import { CROSS_CHECKS } from '../../src/evidence/cross-checks.ts'
import { EVIDENCE_FIGURES } from '../../src/evidence/index.ts'
import { SCORED_JUDGEMENTS } from '../../src/evidence/scored-judgements.ts'
import { run } from './run.ts'

test('lifetally evidence lists every figure with range, how well known, source', () => {
  const { code, out } = run(['evidence'])
  expect(code).toBe(0)
  expect(out.split('\n').filter(line => line.startsWith('  '))).toHaveLength(
    EVIDENCE_FIGURES.length + CROSS_CHECKS.length + SCORED_JUDGEMENTS.length,
  )
  expect(out).toContain('Of 7 of our judgements that a later source could check, 5 lay within their range.')
  expect(out).toMatch(/^ {2}panel-level-unit +failed by 24 years +at most 25\.9 %/m)
  expect(out).toMatch(
    /labour_provider\.exit_rate_per_year +7 % per year +5 to 12 % per year +derived +.*Worked out: .*Weakest point: /,
  )
  expect(out).toMatch(
    /^ {2}failure\.anchor\.share +34\.3 % +25 to 45 % +published +First failures by year 15 of 1,195 home systems in Switzerland\. Source: Bucher/m,
  )
})

test('lifetally evidence --json gives the sources in full', () => {
  const figures = JSON.parse(run(['evidence', '--json']).out)
  expect(figures).toHaveLength(EVIDENCE_FIGURES.length)
  expect(figures[0]).toMatchObject({
    row: 'string-inverter budget',
    known: 'derived',
    formula: expect.stringContaining('tickets'),
    source: expect.stringContaining('maintenance records'),
    weakest: 'that a budget unit fails more is our judgement',
  })
})
