import { openQuestions } from '../estimate/sections/before-signing.ts'
import type { View } from '../estimate/view.ts'

/** Questions on the sheet. */
const QUESTIONS = 5

/** What is worth asking of any quote, where the quotes leave less open. Common practice, no source. */
const ALWAYS: readonly string[] = [
  'What does the cover leave to me: labour, call-out, roof access?',
  'Who gets the alert when it stops, and within how many days does somebody come?',
  'If the model is no longer sold, what fits in its place, and at what extra cost?',
  'Does the price hold everything: switchboard, meter, scaffolding, data link?',
  'Who honours the cover if the maker or the installer closes?',
]

/**
 * Five questions to ask before signing: first what the quotes leave open.
 *
 * @param view - prepared results
 * @returns five questions
 */
export function toAsk(view: View): string[] {
  return [...new Set([...openQuestions(view), ...ALWAYS])].slice(0, QUESTIONS)
}
