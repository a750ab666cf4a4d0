import { held, SCORED_JUDGEMENTS, type ScoredJudgement, scoreSentence } from '../../evidence/scored-judgements.ts'
import { type Table, table } from '../content.ts'
import { formatInput, formatInputRange } from '../format.ts'

/**
 * Our own judgements that a later source could check: how many lay within their range (design section 12).
 *
 * @param locale - BCP 47 tag of digits
 */
export function scoredJudgements(locale: string): { heading: string; sentence: string; table: Table } {
  return {
    heading: 'Our own guesses, scored',
    sentence: `${scoreSentence()} A range is meant to hold 8 of 10. So few cannot show whether our ranges are too narrow.`,
    table: table(
      'What was judged, and what a source said later',
      ['Figure', '#Judged', '#Found', 'Within'],
      SCORED_JUDGEMENTS.map(scored => [
        scored.what,
        said(scored.judged, scored.unit, locale),
        said(scored.found, scored.unit, locale),
        held(scored) ? 'yes' : 'no',
      ]),
    ),
  }
}

function said({ value, low, high }: ScoredJudgement['judged'], unit: string, locale: string): string {
  const middle = formatInput(value, unit, locale, 3)
  return low === null || high === null ? middle : `${middle} (${formatInputRange(low, high, unit, locale)})`
}
