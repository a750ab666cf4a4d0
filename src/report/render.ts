import type { Results } from '../analysis/results.ts'
import { TOPOLOGIES } from '../topologies/index.ts'
import type { Finding, Part } from './content.ts'
import { formatNumber, formatShare } from './format.ts'
import { plainName } from './names.ts'
import { PARTS } from './parts.ts'
import { renderTemplate } from './render-template.ts'
import { answer } from './sections/answer.ts'
import { assumptions } from './sections/assumptions.ts'
import { CAUTIONS } from './sections/cautions.ts'
import { filledNotes } from './sections/notes.ts'
import { reproduce } from './sections/reproduce.ts'
import { scoredJudgements } from './sections/scored-judgements.ts'
import { selfCheck } from './sections/self-check.ts'
import { type View, viewOf } from './view.ts'

/** Who is led through the report. */
export type Audience = 'buyer' | 'retailer' | 'owner'

/** What the report needs beside the results. */
export interface ReportSettings {
  /** Whose part comes first; the others follow. */
  readonly audience: Audience
  /** Command line that makes the file again. */
  readonly command: string
  /** BCP 47 tag of digits and separators; default en-GB. */
  readonly locale?: string
}

/**
 * The report as one HTML file that needs nothing beside it: no request, no script (design section 11).
 *
 * @param results - at least one option
 * @param settings - reader and command line
 * @returns HTML
 * @throws RangeError without options; TypeError where a section left a text out
 */
export function renderReport(results: Results, settings: ReportSettings): string {
  const view = viewOf(results, settings.locale)
  const parts = numbered(orderedParts(view, settings.audience))
  const check = selfCheck(view)
  return renderTemplate('report', {
    title: plainName(results.scenario.title),
    facts: facts(view),
    options: optionLines(view),
    answer: answer(view),
    parts,
    assumptions: assumptions(view),
    scored: scoredJudgements(view.locale),
    check,
    noteLists: [filledNotes(view)].filter(notes => notes.length > 0),
    cautions: CAUTIONS,
    reproduce: reproduce(view, settings.command),
  })
}

function orderedParts(view: View, audience: Audience): Part[] {
  const order: Audience[] = [audience, ...(['buyer', 'retailer', 'owner'] as const).filter(other => other !== audience)]
  return order.map(reader => PARTS[reader](view))
}

/** Findings with their number, counted through in the order in which they stand. */
function numbered(parts: readonly Part[]) {
  let number = 0
  return parts.map(part => ({
    ...part,
    findings: part.findings.map((one: Finding) => {
      number += 1
      return { ...one, number: String(number) }
    }),
  }))
}

function facts(view: View): string {
  const { scenario, draws } = view.results
  return `${view.horizon}, ${scenario.currency}, discounted at ${formatShare(scenario.discountRate, view.locale)} a year; ${formatNumber(draws, 1, view.locale)} lifetimes played for each option.`
}

function optionLines(view: View) {
  return view.results.options.map(option => {
    const topology = Object.values(TOPOLOGIES).find(candidate => candidate.key === option.topology)
    return {
      letter: option.id,
      name: plainName(option.name),
      price: view.money(option.costs.upfront, 0),
      description: topology?.description ?? option.topology,
    }
  })
}
