import type { Assumption } from '../../../scenario/model/assumption.ts'
import { tail } from '../../../scenario/schema/key-words.ts'
import { type Finding, finding, table } from '../../content.ts'
import { formatAssumption } from '../../format/input.ts'
import { joinList, joinWords, plainInput } from '../../names.ts'
import { ownerOf, placesOf, plainWord, valuesByOption } from '../by-option.ts'
import { quoteNotes } from '../frame/notes.ts'
import { KNOWN_WORDS } from '../margin.ts'
import type { View } from '../view.ts'

/** What a quote should say, by the key of the assumption that replaced it. */
const QUESTIONS: readonly {
  readonly key: RegExp
  readonly question: string
  /** The name of the assumed figure, where the question does not say it. */
  readonly as?: string
}[] = [
  { key: /warranty\.years$/, question: 'For how many years are parts covered?' },
  { key: /warranty\.labour_years$/, question: 'For how many years is labour covered, and by whom?' },
  {
    key: /warranty\.replacement_cover$/,
    question: 'Does a unit replaced under warranty bring a new term, or only the rest of the old one?',
  },
  {
    key: /warranty\.claim_success$/,
    question: 'What makes a claim fail: registration, papers, a deadline?',
    as: 'claims granted',
  },
  { key: /warranty\.visits_covered$/, question: 'Are call-out and roof access free while the warranty runs?' },
  {
    key: /warranty\.(parts|labour)$/,
    question: 'Does the cover pay the whole part and the whole work, or a share that falls with age?',
  },
  { key: /replacement\.parts$/, question: 'What does the same unit cost as a spare today?' },
  { key: /replacement\.labour$/, question: 'What does the work of a replacement cost?' },
  { key: /labour_each_further$/, question: 'And the work on each further unit of the same visit?' },
  { key: /call_out$/, question: 'What does a call-out cost?' },
  { key: /roof_access$/, question: 'Is access to the roof charged on top, and how much?' },
  {
    key: /monitoring$|detect_days(\.median)?$/,
    question: 'Who gets the alert when it stops, how, and is that set up on the first day?',
  },
  {
    key: /respond_days(\.median)?$/,
    question: 'Within how many days does somebody come? Will they put it in writing?',
  },
  { key: /successor/, question: 'If the model is no longer sold, what fits in its place, and at what extra cost?' },
  {
    key: /warranty_provider\.exit/,
    question: 'Who honours the cover if the maker closes?',
    as: 'chance that it does',
  },
  { key: /labour_provider\.exit/, question: 'And if the installer closes?', as: 'chance that it does' },
]

/**
 * What to ask before signing: the inputs that move the answer most, and what the quotes left open.
 *
 * @param view - prepared results
 * @returns the finding
 */
export function beforeSigning(view: View): Finding {
  const missing = gaps(view)
  const movers = moving(view)
  return finding({
    id: 'before-signing',
    topic: 'What to ask before signing',
    sentence:
      missing.length === 0
        ? 'The quotes leave nothing open that this report asks about.'
        : `Before you sign, ask ${missing.length === 1 ? 'one question' : `${missing.length} questions`} that the quotes leave open; until you have the answers, this report assumes them.`,
    paragraphs:
      movers.length === 0
        ? []
        : [
            `What moves the answer most: ${joinList(movers)}. Where a price, a term in writing or field records can be had on one of these, they are worth more than a lower price.`,
          ],
    lists: [
      {
        lead: 'What is worth a second look in any quote:',
        points: [
          'One design with a battery, a switchboard or a new meter in its price and another without: compare like with like.',
          'A long warranty on parts with a short one on labour. Most visits cost labour and call-out.',
          'A cover that ends when the installer closes, or when someone else touches the roof.',
          'Gains from tracking each panel on a roof that has no shade; a plain string on a roof that has some, with no loss given for it.',
        ],
      },
      { lead: 'Notes on this roof and these quotes:', points: quoteNotes(view) },
    ].filter(list => list.points.length > 0),
    tables:
      missing.length === 0
        ? []
        : [
            {
              ...table(
                'What the quotes leave open, and what was assumed instead',
                ['Ask', 'Assumed here'],
                missing.map(({ question, of, assumed, known }) => [
                  isEverywhere(of) ? question : `${question} (${of})`,
                  `${assumed} (${known})`,
                ]),
              ),
              length: 'long narrow' as const,
            },
          ],
    margin: [
      { known: 'Yours', text: 'What you put into the scenario is taken as you gave it.' },
      {
        known: 'The rest',
        text: 'Filled from evidence and judgement; the last pages list every figure with its source.',
      },
    ],
  })
}

interface Gap {
  readonly question: string
  /** Components and options whose quotes say nothing. */
  readonly of: string
  /** Letters of those options. */
  readonly letters: readonly string[]
  readonly assumed: string
  /** The assumed values, each with what it holds for where they differ. */
  readonly byOption: string
  /** Each assumed value once, without the units it holds for. */
  readonly values: readonly string[]
  readonly known: string
}

// Ours: longer texts fill the sheet; the report has them.
const SHORT = 44
const LONG = 90

/**
 * Questions that the quotes leave open, in the order of a quote, each with what it is asked of and what was assumed.
 *
 * @param view - prepared results
 * @returns e.g. `For how many years are parts covered? Battery (B); assumed: 10 years.`
 */
export function openQuestions(view: View): string[] {
  return gaps(view).map(({ question, of, letters, values, byOption }) => {
    const where = isEverywhere(of) ? '' : of.length > SHORT ? letters.join(', ') : of
    const said = [
      ...(values.length > 1 ? [] : [where]),
      `assumed: ${byOption.length > LONG ? 'different values, see the report' : byOption}`,
    ]
      .filter(text => text !== '')
      .join('; ')
    return said === '' ? question : `${question} ${said.charAt(0).toUpperCase()}${said.slice(1)}.`
  })
}

function isEverywhere(of: string): boolean {
  return of === 'all options' || of === 'every component'
}

function gaps(view: View): Gap[] {
  return QUESTIONS.flatMap(({ key, question, as }) => {
    const those = view.results.inputs.filter(input => input.known !== 'yours' && key.test(tail(input.key)))
    if (those.length === 0) return []
    const grades = [...new Set(those.map(input => KNOWN_WORDS[input.known].toLowerCase()))]
    return [
      {
        question,
        of: placesOf(view, sameKey(those)),
        letters: [...new Set(those.flatMap(input => ownerOf(view, input)?.id ?? []))],
        values: [...new Set(those.map(input => plainWord(input) ?? formatAssumption(input, view.locale)))],
        byOption: valuesByOption(view, those),
        assumed: `${as === undefined ? '' : `${as}: `}${valuesByOption(view, those)}`,
        known: joinWords(grades),
      },
    ]
  })
}

/** Those of the first key: a question may cover several. */
function sameKey(inputs: readonly Assumption[]): Assumption[] {
  return inputs.filter(({ key }) => tail(key) === tail(inputs[0]?.key ?? ''))
}

function moving(view: View): string[] {
  const drivers = view.results.drivers
    .filter(driver => driver.input !== 'others')
    .slice(0, 4)
    .map(driver => plainInput(driver.input))
  if (drivers.length > 0) return drivers
  return [...view.results.swings]
    .sort((a, b) => Math.abs(b.differenceAtHigh - b.differenceAtLow) - Math.abs(a.differenceAtHigh - a.differenceAtLow))
    .slice(0, 4)
    .map(swing => plainInput(swing.input))
}
