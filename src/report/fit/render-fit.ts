import { failureBlock, saidOf } from '../../fitting/failure-block.ts'
import type { FitResult } from '../../fitting/fit-result.ts'
import { type Finding, finding, type Part, table } from '../content.ts'
import { joinWords, plainName } from '../names.ts'
import { renderTemplate } from '../render-template.ts'
import { agreementFinding, type GroupPlace, lifeFinding, repeatedFinding } from './group-findings.ts'
import { HOW_IT_WAS_DONE } from './method.ts'
import { bestModel, share, wordsFor } from './words.ts'

/**
 * fit.html: what field records say of failures, for someone who runs a service desk.
 *
 * @param result - the fit, at least one group
 * @param command - command line that makes the file again
 * @returns one HTML file that needs nothing beside it
 */
export function renderFitReport(result: FitResult, command: string): string {
  const words = wordsFor(result)
  const places: GroupPlace[] = result.groups.map((group, index) => ({ result, group, words, id: `g${index + 1}` }))
  const parts: Part[] = [
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
      findings: [...warnings(result), ...places.flatMap(agreementFinding)],
    },
    ...numberedPart(places.flatMap(repeatedFinding)),
  ].filter(part => part.findings.length > 0)
  return renderTemplate('fit', {
    title: `What ${plainName(result.records === '-' ? 'the records' : result.records)} says of failures`,
    facts: `${saidOf(result.groups)}${result.groups.length > 1 ? ` in ${result.groups.length} groups` : ''}; ages in ${result.ageUnit}.`,
    answer: answer(places),
    parts: numbered(parts),
    block: failureBlock(result, 'fit.json'),
    method: [...HOW_IT_WAS_DONE],
    reproduce: `${result.tool.name} ${result.tool.version}, seed ${result.seed}. The same records and seed give the same figures.`,
    command,
  })
}

function numberedPart(findings: readonly Finding[]): Part[] {
  return findings.length === 0
    ? []
    : [{ id: 'repeated', title: 'Places that failed more than once', lead: [], findings }]
}

function numbered(parts: readonly Part[]) {
  let number = 0
  return parts.map(part => ({
    ...part,
    findings: part.findings.map(one => {
      number += 1
      return { ...one, number: String(number) }
    }),
  }))
}

/** The answer in a paragraph: each group in a sentence, five at most. */
function answer(places: readonly GroupPlace[]): string[] {
  const sentences = places.slice(0, 5).map(({ result, group, words }) => {
    const name = result.groups.length === 1 ? 'Of these units' : `Of ${plainName(group.name)}`
    const year10 = group.failedBy.find(point => point.years === 10)
    if (bestModel(group) === null || year10 === undefined || group.meanLife === null) {
      return `${name} too few have failed to draw a curve.`
    }
    return `${name}, ${share(year10.estimate)} fail within ten years (${words.shareRange(year10.profile90)} in 9 of 10 cases); a unit lasts ${words.age(group.meanLife.estimate)} on average.`
  })
  const more = places.length > 5 ? [`The other ${places.length - 5} groups follow below.`] : []
  const warned = new Set(
    places[0]?.result.warnings.filter(({ code }) => code !== 'beyond-the-records').map(({ text }) => text),
  ).size
  const caution =
    warned === 0
      ? []
      : [
          `Read the ${warned === 1 ? 'caution' : `${warned} cautions`} under "How far to trust it" before you use these figures.`,
        ]
  return [[...sentences, ...more].join(' '), ...caution]
}

function comparison(result: FitResult): Finding {
  const differ = result.tests.some(test => test.name !== 'likelihood-ratio-shape' && test.pValue < 0.05)
  return finding({
    id: 'groups-differ',
    topic: 'groups against each other',
    sentence: differ
      ? 'The groups fail differently; do not mix them.'
      : 'The groups cannot be told apart with these records.',
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
  const many = result.groups.length > 1
  // The same caution for several groups is given once.
  const told = new Map<string, string[]>()
  for (const warning of result.warnings) {
    const groups = told.get(warning.text) ?? []
    if (warning.group !== null) groups.push(plainName(warning.group))
    told.set(warning.text, groups)
  }
  return [
    finding({
      id: 'cautions',
      topic: 'cautions',
      sentence: told.size === 1 ? 'There is one caution.' : `There are ${told.size} cautions.`,
      lists: [
        {
          lead: 'Keep in mind',
          points: [...told].map(([text, groups]) =>
            groups.length > 0 && many ? `${joinWords(groups)}: ${text}` : text,
          ),
        },
      ],
      margin: [{ known: 'Judgement', text: 'The limits at which a caution is given are ours.' }],
    }),
  ]
}
