import type { OwnerFilesResult } from '../../fitting/register/owner-result.ts'
import { type Finding, finding, type Table, table } from '../content.ts'
import { formatNumber } from '../format/number.ts'
import { plainName } from '../names.ts'
import { ownerNotes, watchSentence } from './answer.ts'

const ABOUT = { register: 'Register', tickets: 'Tickets', lives: 'Rows made' } as const

/**
 * What was decided in reading a register and tickets, with a count of each.
 *
 * @param owner - what was decided
 */
export function ownerFinding(owner: OwnerFilesResult): Finding {
  const counted = (code: string): string =>
    formatNumber(owner.decisions.find(decision => decision.code === code)?.count ?? 0, 1)
  return finding({
    id: 'decisions',
    topic: 'how the rows were made',
    sentence: `${counted('ticket-failures')} of ${counted('ticket-rows')} tickets end a unit; the files give ${counted('lives')} units.`,
    paragraphs: [
      `Units come from ${plainName(owner.register)}, tickets from ${plainName(owner.tickets)}. The rows are in records.csv: look through them. ${watchSentence(owner)}`,
      `${ownerNotes(owner).join(' ')} ${
        owner.namesAre === 'places'
          ? 'A failure ends the unit in the place and starts its successor.'
          : 'A failure ends the unit; its replacement has a row of its own in the register.'
      } Failures of one unit within ${owner.sameOutageDays} days are one outage.`,
    ],
    tables: [
      table(
        'What was decided',
        ['What', 'About', '#Count'],
        owner.decisions.map(({ about, text, count }) => [text, ABOUT[about], formatNumber(count, 1)]),
        ['Every ticket is in one of the counts; those that begin with "of these" are parts of the one above.'],
      ),
      ...texts('Most common texts taken as failures', owner.texts.failures),
      ...texts('Most common texts of other tickets', owner.texts.others),
    ],
    margin: [
      { known: 'Yours', text: 'Your two files, and the options you gave.' },
      {
        known: 'Judgement',
        text: 'The gap that joins tickets, and how a name is recognised as that of a place, are ours.',
      },
    ],
  })
}

function texts(caption: string, common: OwnerFilesResult['texts']['failures']): Table[] {
  if (common.length === 0) return []
  return [
    table(
      caption,
      ['Text', '#Tickets'],
      common.map(({ text, count }) => [plainName(text), formatNumber(count, 1)]),
    ),
  ]
}
