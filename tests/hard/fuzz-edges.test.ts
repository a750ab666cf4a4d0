import fc from 'fast-check'
import { HtmlValidate } from 'html-validate'
import { expect, test } from 'vitest'
import type { Results } from '../../src/analysis/results.ts'
import { InputError, TooManyFailuresError } from '../../src/errors.ts'
import { type Block, first, play, playOptions } from '../worlds.ts'
import { broken, reportOf } from './edge-invariants.ts'
import { anyEdges, halfPrice, longerLife, WORLDS, withEdges } from './edge-scenarios.ts'
import { FuzzRun, LONG } from './fuzz-run.ts'

const fuzz = new FuzzRun('edges')
const validator = new HtmlValidate({
  extends: ['html-validate:recommended'],
  rules: { 'long-title': 'off', 'no-trailing-whitespace': 'off' },
})
/** The report is written for one case in so many, and checked as HTML for one in as many of these. */
const REPORTED = 4

test('whatever the edges of a valid scenario: sums, orders, energy, cover, prices and lives hold', LONG, async () => {
  let index = 0
  const cases = fuzz.settings(40)
  await fc.assert(
    fc.asyncProperty(anyEdges, async ({ base, edges }) => {
      const scenario = withEdges(base, edges)
      const text = JSON.stringify(scenario)
      const told = edges.map(edge => edge.told)
      const turn = index++
      await fuzz.try(text, told.join(' | '), () => ending(scenario, text, turn))
    }),
    cases,
  )
  // two edges may not go together; most do
  expect(fuzz.ended.refused ?? 0).toBeLessThan(cases.numRuns / 3)
  const { played = 0, reported = 0 } = fuzz.ended
  expect(played + reported).toBeGreaterThan(cases.numRuns / 2)
})

async function ending(scenario: Block, text: string, turn: number): Promise<string> {
  let results: Results
  try {
    results = await play(scenario)
  } catch (error) {
    if (error instanceof InputError) return 'refused'
    if (error instanceof TooManyFailuresError) return 'too many failures'
    throw error
  }
  const found = [...broken(results), ...(await changedPrices(scenario, results, turn))]
  if (found.length > 0) throw new Error(found.slice(0, 5).join('\n'))
  if (turn % REPORTED > 0) return 'played'
  const page = reportOf(results, text)
  if (turn % (REPORTED * REPORTED) > 0) return 'reported'
  const flaws = (await validator.validateString(page)).results.flatMap(({ messages }) => messages)
  if (flaws.length > 0) throw new Error(`not HTML: ${flaws[0]?.message} in line ${flaws[0]?.line}`)
  return 'valid HTML'
}

/** One of two further runs under the same seed: cheaper parts never cost more, longer lives never fail more often. */
async function changedPrices(scenario: Block, results: Results, turn: number): Promise<string[]> {
  if (turn % 4 === 1) {
    if (scenario.residual_value === 'straight-line') return []
    const cheaper = await playOptions(halfPrice(scenario))
    return results.options.flatMap(({ lifetimeCost: { mean }, costs }, i) => {
      const less = cheaper.options[i]?.lifetimeCost.mean ?? 0
      return less > mean + 1e-9 * (Math.abs(mean) + costs.upfront) ? [`half the price costs ${less}, not ${mean}`] : []
    })
  }
  if (turn % 4 !== 3 || !livesAlone(scenario)) return []
  const { scenario: longer, any } = longerLife(scenario)
  if (!any) return []
  const [before, after] = [results, await playOptions(longer)].map(run => first(run.options).failures.mean)
  return (after ?? 0) > (before ?? 0) ? [`longer lives fail ${after} times, not ${before}`] : []
}

/** Whether the units of the first option live by their lives alone: no repair, visit rule or plan moves their dates. */
function livesAlone({ options }: Block): boolean {
  const text = JSON.stringify((options as readonly unknown[])[0]) // of a base
  return !/restore|visit_policy|replace_at_age|none_failed_so_far/.test(text)
}

test('the list of edges names each key and value once', () => {
  for (const { edges } of WORLDS) expect(new Set(edges.map(({ told }) => told)).size).toBe(edges.length)
})
