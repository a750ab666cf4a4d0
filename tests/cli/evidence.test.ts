import { expect, test } from 'vitest'
import { FIGURES } from '../../src/evidence/index.ts'
import { run } from './run.ts'

test('lifetally evidence lists every figure with range, how well known, source', () => {
  const { code, out } = run(['evidence'])
  expect(code).toBe(0)
  expect(out.split('\n').filter(line => line.startsWith('  '))).toHaveLength(FIGURES.length)
  expect(out).toMatch(
    /^ {2}failure\.anchor\.share +34\.3 % +published +First failures by year 15 of 1,195 home systems in Switzerland\. Source: Bucher/m,
  )
})

test('lifetally evidence --json gives the sources in full', () => {
  const figures = JSON.parse(run(['evidence', '--json']).out)
  expect(figures).toHaveLength(FIGURES.length)
  expect(figures[0]).toMatchObject({
    row: 'string-inverter budget',
    known: 'judgement',
    source: expect.stringContaining('judgement of'),
  })
})
