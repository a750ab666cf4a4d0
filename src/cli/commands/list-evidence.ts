import { CROSS_CHECKS } from '../../evidence/cross-checks.ts'
import type { EvidenceFigure } from '../../evidence/figure.ts'
import { weakestOf } from '../../evidence/index.ts'
import { held, SCORED_JUDGEMENTS, type ScoredJudgement, scoreSentence } from '../../evidence/scored-judgements.ts'
import { SOURCES } from '../../evidence/sources.ts'
import { formatInput, formatInputRange } from '../../report/format/input.ts'
import { terminalText, textTable } from '../terminal/text-table.ts'

/**
 * The built-in figures as text, row by row of the evidence.
 *
 * @param figures - what to list
 * @returns text of several lines
 */
export function listEvidence(figures: readonly EvidenceFigure[]): string {
  const rows = [...new Set(figures.map(figure => figure.row))]
  const count = (known: EvidenceFigure['known']) => figures.filter(figure => figure.known === known).length
  const head = `${figures.length} built-in figures: ${count('published')} published, ${count('derived')} derived here from data, ${count('recalled')} recalled without the source at hand, ${count('judgement')} judgement.\nIn a range, 1 of 10 lies below the low end and 1 of 10 above the high end. Prices are US dollars of about 2025.\n`
  const tables = rows.map(row => {
    const lines = figures.filter(figure => figure.row === row).map(line)
    return `\n${row === 'common' ? 'For all' : row}\n${textTable(lines)}`
  })
  return terminalText([head, ...tables, crossChecks(), scores()].join(''))
}

function line(figure: EvidenceFigure): string[] {
  const { low, high, unit } = figure
  const range = low === null || high === null ? '' : formatInputRange(low, high, unit)
  return [
    figure.key,
    formatInput(figure.value, unit),
    range,
    figure.known,
    [
      figure.remark,
      figure.formula === null ? '' : `Worked out: ${figure.formula}.`,
      `Source: ${SOURCES[figure.source].text}.`,
      `Weakest point: ${weakestOf(figure)}.`,
    ]
      .filter(part => part !== '')
      .join(' '),
  ]
}

/** Points and bounds that rows are compared with; a bound is never a middle. */
function crossChecks(): string {
  const lines = CROSS_CHECKS.map(({ row, ageYears, kind, value, low, high, source, remark }) => [
    row,
    `failed by ${ageYears} years`,
    kind === 'point' ? formatInput(value, 'share') : `at most ${formatInput(value, 'share')}`,
    low === null || high === null ? '' : formatInputRange(low, high, 'share'),
    `${remark} Source: ${SOURCES[source].text}.`,
  ])
  return `\nFor comparison only, used in no figure: second points and bounds\n${textTable(lines)}`
}

/** Our own judgements that were later compared with data. */
function scores(): string {
  const lines = SCORED_JUDGEMENTS.map(scored => [
    scored.what,
    `judged ${ranged(scored.judged, scored.unit)}`,
    `found ${ranged(scored.found, scored.unit)}`,
    held(scored) ? 'within' : 'outside',
    `Source: ${SOURCES[scored.source].text}.`,
  ])
  return `\n${scoreSentence()}\n${textTable(lines)}`
}

function ranged({ value, low, high }: ScoredJudgement['judged'], unit: string): string {
  const middle = formatInput(value, unit)
  return low === null || high === null ? middle : `${middle} (${formatInputRange(low, high, unit)})`
}
