import { UsageError } from '../../errors.ts'
import { show } from '../../input/problems.ts'

/** Different texts counted (ours: the common ones come early, and free texts never end). */
const MOST_TEXTS = 20_000

/** `--failed-when` with this alone takes every ticket for a failure. */
const EVERY = '*'

/** A text of tickets and how many have it. */
export interface TextCount {
  readonly text: string
  readonly count: number
}

/** Decides by their text which tickets are failures. */
export class FailedWhen {
  readonly #failed: RegExp | null
  readonly #notFailed: RegExp | null
  readonly #every: boolean
  readonly #seen = new Map<string, { readonly failure: boolean; count: number }>()

  /**
   * @param words - `--failed-when`: words or phrases separated by commas, each found where a word of the text begins with
   *   it, capitals or not; null: not given
   * @param notWords - `--not-when`: words likewise, with which a ticket is no failure nevertheless; null: not given
   * @throws UsageError where there is no word
   */
  constructor(words: string | null, notWords: string | null = null) {
    this.#every = words === null || words.trim() === EVERY
    this.#failed = this.#every
      ? null
      : wordPattern(words ?? '', '--failed-when', '"replaced,no output", or * for every ticket')
    this.#notFailed = notWords === null ? null : wordPattern(notWords, '--not-when', '"isolator,fuse"')
  }

  /**
   * Whether a ticket is a failure.
   *
   * @param text - of the ticket, trimmed
   */
  isFailure(text: string): boolean {
    const known = this.#seen.get(text)
    if (known !== undefined) {
      known.count++
      return known.failure
    }
    const failure = (this.#every || this.#failed?.test(text) === true) && this.#notFailed?.test(text) !== true
    // The key is copied: a piece of a line would keep its whole chunk.
    if (this.#seen.size < MOST_TEXTS) this.#seen.set(Buffer.from(text).toString(), { failure, count: 1 })
    return failure
  }

  /**
   * The most common texts.
   *
   * @param failure - of failures or of other tickets
   * @param most - how many
   * @returns the most common first, equal ones in order of the alphabet
   */
  common(failure: boolean, most: number): TextCount[] {
    return [...this.#seen]
      .filter(([text, seen]) => seen.failure === failure && text !== '')
      .map(([text, { count }]) => ({ text, count }))
      .sort((a, b) => b.count - a.count || (a.text < b.text ? -1 : 1))
      .slice(0, most)
  }
}

/** Finds any of the words or phrases where a word of the text begins with it. */
function wordPattern(words: string, option: string, example: string): RegExp {
  const phrases = words
    .split(',')
    .map(word => word.trim())
    .filter(phrase => phrase !== '')
  if (phrases.length === 0) throw new UsageError(`${option}: write words separated by commas, e.g. ${example}`)
  const escaped = phrases.map(phrase => phrase.replace(/[.*+?^${}()|[\]\\]/g, '\\$&').replace(/\s+/g, '\\s+'))
  return new RegExp(`(?<![\\p{L}\\p{N}])(?:${escaped.join('|')})`, 'iu')
}

/**
 * The error that asks for `--failed-when`.
 *
 * @param why - what is missing, a sentence
 * @param texts - the most common texts
 */
export function askFailedWhen(why: string, texts: readonly TextCount[]): UsageError {
  const list = texts.map(({ text, count }) => `\n  ${count} × ${show(text)}`).join('')
  return new UsageError(
    `${why} Say which words mean that a unit failed, e.g. --failed-when "replaced,no output", or --failed-when "*" for every ticket. The most common texts:${list}`,
  )
}
