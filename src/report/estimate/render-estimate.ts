import type { Results } from '../../analysis/results.ts'
import { scoreSentence } from '../../evidence/scored-judgements.ts'
import { TOPOLOGIES } from '../../topologies/index.ts'
import { formatNumber } from '../format/number.ts'
import { formatShare } from '../format/share.ts'
import { joinWords, plainName } from '../names.ts'
import { numbered } from '../numbered.ts'
import { renderTemplate } from '../render-template.ts'
import { optionTables } from '../sheet/option-table.ts'
import { answerSection, underTheAnswer } from './frame/answer.ts'
import { assumptions } from './frame/assumptions.ts'
import { CAUTIONS } from './frame/cautions.ts'
import { filledNotes } from './frame/notes.ts'
import { reproduce } from './frame/reproduce.ts'
import { selfCheck } from './frame/self-check.ts'
import { type Audience, type Parts, partsOf } from './parts.ts'
import { costFigure } from './sections/lifetime-cost.ts'
import { type View, viewOf } from './view.ts'

/** What the report needs in addition to the results. */
export interface ReportSettings {
  /** The reader whose chapter it holds; each finding of the other readers is one sentence. */
  readonly audience: Audience
  /** Command line that makes the file again. */
  readonly command: string
  /** BCP 47 tag of digits and separators; default en-GB. */
  readonly locale?: string
}

/**
 * The report as one HTML file that needs no other: no request, no script.
 *
 * @param results - at least one option
 * @param settings - reader and command line
 * @returns HTML
 * @throws RangeError without options; TypeError where a section left a text out
 */
export function renderReport(results: Results, settings: ReportSettings): string {
  const view = viewOf(results, settings.locale)
  const { chapter, further } = partsOf(view, settings.audience)
  const check = selfCheck(view)
  return renderTemplate('report', {
    title: plainName(results.scenario.title),
    facts: facts(view),
    options: optionLines(view),
    answer: answerSection(view),
    under: underTheAnswer(view),
    answerTables: optionTables(view),
    answerFigure: costFigure(view),
    parts: numbered([chapter]),
    further: further.map(({ sentence }) => sentence),
    furtherLead: furtherLead(further),
    assumptions: assumptions(view),
    scored: `${scoreSentence()} A range is meant to hold 8 of 10; so few cannot show whether ours are too narrow.`,
    check,
    noteLists: [filledNotes(view)].filter(notes => notes.length > 0),
    cautions: CAUTIONS,
    reproduce: reproduce(view, settings.command),
  })
}

/** Where the findings of other readers are given in full. */
function furtherLead(further: Parts['further']): string {
  const readers = new Set(further.map(({ reader }) => reader))
  return `In full in the report for ${joinWords([...readers].map(reader => `${reader === 'owner' ? 'an' : 'a'} ${reader}`))}.`
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
