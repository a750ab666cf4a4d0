import { CANNOT_CARRY } from '../../fitting/checks/warnings.ts'
import { failureYaml, recordsName, saidOf } from '../../fitting/failure-block.ts'
import type { FitResult } from '../../fitting/fit-result.ts'
import { type Chapter, type Finding, finding, table } from '../content.ts'
import { plainName } from '../names.ts'
import { numbered } from '../numbered.ts'
import { renderTemplate } from '../render-template.ts'
import { answerSentences, cautionsOf, groupsSentence } from './answer.ts'
import { agreementFinding, type GroupPlace, lifeFinding, repeatedFinding } from './group-findings.ts'
import { HOW_IT_WAS_DONE } from './method.ts'
import { ownerFinding } from './owner-finding.ts'
import { wordsFor } from './words.ts'

/**
 * fit.html: what field records say of failures, for someone who runs a service desk.
 *
 * @param result - the fit, at least one group
 * @param command - command line that makes the file again
 * @returns one HTML file that needs no other
 */
export function renderFitReport(result: FitResult, command: string): string {
  const words = wordsFor(result)
  const places: GroupPlace[] = result.groups.map((group, index) => ({ result, group, words, id: `g${index + 1}` }))
  const parts: Chapter[] = [
    {
      id: 'lives',
      title: 'How long units last',
      lead: [],
      findings: places.map(lifeFinding),
    },
    ...(result.tests.length > 0
      ? [{ id: 'groups', title: 'Whether the groups differ', lead: [], findings: [comparison(result)] }]
      : []),
    {
      id: 'trust',
      title: 'How far to trust it',
      lead: [],
      findings: [
        ...warnings(result),
        ...(result.ownerFiles === null ? [] : [ownerFinding(result.ownerFiles)]),
        ...places.flatMap(agreementFinding),
      ],
    },
    ...numberedPart(places.flatMap(repeatedFinding)),
  ].filter(part => part.findings.length > 0)
  return renderTemplate('fit', {
    title: `Failures in ${plainName(result.records === '-' ? 'the records' : recordsName(result))}`,
    facts: `${saidOf(result.groups)}${result.groups.length > 1 ? ` in ${result.groups.length} groups` : ''}; ages in ${result.ageUnit}.`,
    answer: answer(result),
    parts: numbered(parts),
    block: failureYaml(result, 'fit.json'),
    method: [...HOW_IT_WAS_DONE],
    reproduce: `${result.tool.name} ${result.tool.version}, seed ${result.seed}. The same records and seed give the same figures.`,
    command,
  })
}

function numberedPart(findings: readonly Finding[]): Chapter[] {
  return findings.length === 0
    ? []
    : [{ id: 'repeated', title: 'Places that failed more than once', lead: [], findings }]
}

/** The answer in a paragraph, and the figures that the records cannot support. */
function answer(result: FitResult): string[] {
  const warned = cautionsOf(result).length
  const read =
    warned === 0
      ? []
      : [
          `Read the ${warned === 1 ? 'caution' : `${warned} cautions`} under "How far to trust it" before you use these figures.`,
        ]
  return [answerSentences(result).join(' '), ...cautionsOf(result, CANNOT_CARRY), ...read]
}

function comparison(result: FitResult): Finding {
  return finding({
    id: 'groups-differ',
    topic: 'groups against each other',
    sentence: groupsSentence(result) ?? '',
    paragraphs: result.tests.map(test => `${test.said}`),
    tables: [
      table(
        'Tests',
        ['Test', '#Chi-square', '#Degrees of freedom', '#Chance'],
        result.tests.map(test => [
          TEST_NAMES[test.name],
          test.chiSquare.toFixed(1),
          String(test.degreesOfFreedom),
          test.pValue < 0.001 ? 'under 0.001' : test.pValue.toFixed(3),
        ]),
      ),
    ],
    margin: [{ known: 'Yours', text: 'Your records alone decide this.' }],
  })
}

const TEST_NAMES = {
  'log-rank': 'Log-rank, no curve assumed',
  'likelihood-ratio-curve': 'Likelihood ratio, one curve for all',
  'likelihood-ratio-shape': 'Likelihood ratio, one shape for all',
} as const

function warnings(result: FitResult): Finding[] {
  if (result.warnings.length === 0) return []
  const points = cautionsOf(result)
  return [
    finding({
      id: 'cautions',
      topic: 'cautions',
      sentence: points.length === 1 ? 'There is one caution.' : `There are ${points.length} cautions.`,
      lists: [{ lead: 'Keep in mind', points }],
      margin: [{ known: 'Judgement', text: 'The limits at which a caution is given are ours.' }],
    }),
  ]
}
