import { estimate } from '../../src/analysis/estimate.ts'
import { runnerOf } from '../../src/analysis/threads.ts'
import { InputError, LifetallyError } from '../../src/errors.ts'
import { renderReport } from '../../src/report/estimate/render-estimate.ts'
import { comparisonsCsv, reserveCsv, yearlyCsv } from '../../src/report/estimate/write-csv.ts'
import { resultsJson } from '../../src/report/write-json.ts'
import type { Scenario } from '../../src/scenario/model.ts'
import { readScenario } from '../../src/scenario/read-scenario.ts'

/** How a case ended: refused, read, too large to play here, played, or played and reported. */
export type Ending = 'refused' | 'read' | 'large' | 'played' | 'reported'

/** Words that only an unfilled or broken figure leaves in a page. */
const BROKEN = /\bNaN\b|\bInfinity\b|\bundefined\b|\[object |\bnull\b(?=<)|∞/

/** How far a case is taken. */
export type Depth = 'read' | 'play' | 'report'

/** Units times years above which a case is only read: playing it would take seconds and show nothing more. */
const MOST_UNIT_YEARS = 20_000

/**
 * One scenario text through the real reader, a tiny estimate and the writers.
 *
 * @param text - the file
 * @param depth - whether it is played, and whether report.html is written too
 * @returns how it ended; throws what is a fault of the program
 */
export async function playCase(text: string, depth: Depth): Promise<Ending> {
  let scenario: Scenario
  try {
    scenario = readScenario(text, 'case.yaml', 'examples')
  } catch (error) {
    if (error instanceof InputError && error.message.length > 0 && error.message.length < 200_000) return 'refused'
    throw error
  }
  if (depth === 'read') return 'read'
  const units = scenario.options.flatMap(option => option.populations).reduce((sum, { count }) => sum + count, 0)
  const roofs = scenario.site.generation.form === 'arrays' && scenario.options.length > 2
  if (units * scenario.horizonYears > MOST_UNIT_YEARS || roofs) return 'large'
  const tool = { name: 'lifetally', version: 'test' }
  const results = await estimate(scenario, { draws: 40, seed: 1, tool }, runnerOf(1), () => {})
  // The writers refuse what is not finite, so a file that was written has no such figure; the words are looked for too.
  for (const file of [resultsJson(results), yearlyCsv(results), reserveCsv(results), comparisonsCsv(results)])
    if (/\bNaN\b|\bInfinity\b|\bundefined\b/.test(withoutText(file)) && !/NaN|Infinity|undefined/.test(text))
      throw new Error(`a broken figure: ${around(file)}`)
  if (depth === 'play') return 'played'
  const html = renderReport(results, { audience: 'buyer', command: 'lifetally estimate case.yaml' })
  const said = html.replace(/<style>.*?<\/style>/gs, '')
  needWhole(said, text)
  if (hasMarkup(said)) throw new Error('a name became markup')
  return 'reported'
}

/**
 * Looks for broken figures in a page.
 *
 * @param page - HTML
 * @param given - what it was made from; where that has such words itself, they prove nothing
 */
export function needWhole(page: string, given: string): void {
  if (BROKEN.test(page) && !/NaN|Infinity|undefined|"null"|name: null|∞/.test(given))
    throw new Error(`a broken figure in the report: ${around(page)}`)
}

/** Whether a page holds elements or attributes that only a name can have brought; escaped they are words. */
export function hasMarkup(html: string): boolean {
  return /<script|<img/i.test(html) || /<[^>]*\son\w+=/i.test(html.replace(/="[^"]*"/g, '=""'))
}

/** Whether an error is an intended one, with a message for a person. */
export function isMeant(error: unknown): boolean {
  return error instanceof LifetallyError && error.code !== 'non-finite'
}

function withoutText(file: string): string {
  return file.replace(/"(?:[^"\\]|\\.|"")*"/g, '""')
}

function around(text: string): string {
  const at = Math.max(0, text.search(BROKEN))
  return text.slice(Math.max(0, at - 120), at + 60)
}
