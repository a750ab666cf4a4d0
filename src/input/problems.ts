import { closest, distance } from 'fastest-levenshtein'
import { InputError, type Problem } from '../errors.ts'

/** Place of a value in a structured file: keys of maps and indices of lists, from the root. */
export type KeyPath = readonly (string | number)[]

/** Line and column, both from 1; null where the place has none. */
export interface TextPlace {
  readonly line: number | null
  readonly column: number | null
}

/** Content of a structured file, and where in the text each part of it is. */
export interface SourceValue {
  /** File as the user named it; `-` for standard input. */
  readonly file: string
  /** Plain data: maps are objects without prototype surprises, lists are arrays. */
  readonly value: unknown
  /** The place of a key, of a list entry, or of the nearest enclosing part that exists. */
  readonly placeOf: (path: KeyPath) => TextPlace
  /** The key as written in the file for a key path; left out: the path itself. */
  readonly writtenAs?: (path: KeyPath) => KeyPath
  /** Numbers written with one point and three digits after it, like 10.900, as text. */
  readonly threeDecimals?: readonly { readonly path: KeyPath; readonly written: string }[]
}

/** Most problems reported of one file; ours, so that reading of a file that is no scenario ends soon. */
const MAX_PROBLEMS = 200

/** Gathers all problems of one file, to be reported at once. */
export class Problems {
  readonly #source: SourceValue
  readonly #found: { readonly path: string; readonly problem: Problem }[] = []

  readonly #others: Problem[] = []

  constructor(source: SourceValue) {
    this.#source = source
  }

  /** Whether there is a problem so far. */
  get any(): boolean {
    return this.#found.length + this.#others.length > 0
  }

  /**
   * Adds one problem; the same message at the same key is kept once.
   *
   * @param path - key path of the value that is wrong or missing
   * @param message - what was found, what is allowed, what to do
   */
  add(path: KeyPath, message: string): void {
    const key = (this.#source.writtenAs?.(path) ?? path).join('.')
    if (this.#found.length >= MAX_PROBLEMS) return
    if (this.#found.some(({ problem }) => problem.key === key && problem.message === message)) return
    const problem = { file: this.#source.file, ...this.#source.placeOf(path), key, message }
    this.#found.push({ path: path.join('.'), problem })
  }

  /**
   * Adds the problems of another file, to be reported at the same time.
   *
   * @param found - its problems
   */
  include(found: readonly Problem[]): void {
    this.#others.push(...found)
  }

  /**
   * Whether there is a problem already at a key, above it or below it, so that a rule need not report it again.
   *
   * @param path - key path
   */
  touches(path: KeyPath): boolean {
    const key = path.join('.')
    return this.#found.some(
      ({ path: found }) => found === '' || `${key}.`.startsWith(`${found}.`) || `${found}.`.startsWith(`${key}.`),
    )
  }

  /**
   * All problems in order of line and column, those without a line first; then those of other files. At most 200; the
   * last then names the limit.
   */
  inOrder(): readonly Problem[] {
    const sorted = this.#found
      .map(({ problem }) => problem)
      .sort((a, b) => (a.line ?? 0) - (b.line ?? 0) || (a.column ?? 0) - (b.column ?? 0))
    if (sorted.length < MAX_PROBLEMS) return [...sorted, ...this.#others]
    const message = `${MAX_PROBLEMS} problems are listed; there may be more once these are corrected`
    return [...sorted, { file: this.#source.file, line: null, column: null, key: '', message }]
  }

  /**
   * Throws if there is a problem.
   *
   * @throws InputError with every problem, in order of line
   */
  throwIfAny(): void {
    if (this.any) throw new InputError(this.inOrder())
  }
}

/**
 * The known word most likely meant, or null where none is close: at most two letters off, and less than half of the
 * word. The limits are ours: larger ones suggest unrelated words for short keys.
 *
 * @param word - the word as written
 * @param known - the words that are allowed
 * @returns one of `known`, or null
 * @example nearest('waranty', ['warranty', 'visit']) // 'warranty'
 */
export function nearest(word: string, known: readonly string[]): string | null {
  if (known.length === 0) return null
  const best = closest(word.toLowerCase(), [...known])
  const off = distance(word.toLowerCase(), best)
  return off <= 2 && off * 2 < best.length ? best : null
}

/**
 * A value as a message shows it: short, quoted if text.
 *
 * @param value - anything read from a file
 * @returns at most about 60 characters
 * @example show('12 %') // '"12 %"'
 */
export function show(value: unknown): string {
  if (value === undefined || value === null) return 'nothing'
  if (Array.isArray(value)) return value.length === 1 ? 'a list of 1' : `a list of ${value.length}`
  if (typeof value === 'object') return 'a block of keys'
  if (typeof value !== 'string') return String(value)
  return JSON.stringify(value.length > 50 ? `${value.slice(0, 50)}…` : value)
}
