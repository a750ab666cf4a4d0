import { closest, distance } from 'fastest-levenshtein'
import { InputError, type Problem } from '../errors.ts'

/** Place of a value in a structured file: keys of maps and indices of lists, from the root. */
export type KeyPath = readonly (string | number)[]

/** Line and column, both from 1; null where the place has none. */
export interface TextPlace {
  readonly line: number | null
  readonly column: number | null
}

/** What a structured file holds, and where in the text each part of it is. */
export interface SourceValue {
  /** File as the user named it; `-` for standard input. */
  readonly file: string
  /** Plain data: maps are objects without prototype surprises, lists are arrays. */
  readonly value: unknown
  /** The place of a key, of a list entry, or of the nearest enclosing part that is there. */
  readonly placeOf: (path: KeyPath) => TextPlace
  /** The key that a person wrote for a key path; left out: the path itself. */
  readonly writtenAs?: (path: KeyPath) => KeyPath
  /** Numbers written with one point and three digits behind it, like 10.900, as they are written. */
  readonly threeDecimals?: readonly { readonly path: KeyPath; readonly written: string }[]
}

/** Most problems reported of one file; ours, so that an absurd file ends soon. */
const MAX_PROBLEMS = 200

/** Gathers all that is wrong with one file, so that it can be reported in one go. */
export class Problems {
  readonly #source: SourceValue
  readonly #found: { readonly path: string; readonly problem: Problem }[] = []

  readonly #others: Problem[] = []

  constructor(source: SourceValue) {
    this.#source = source
  }

  /** Whether anything is wrong so far. */
  get any(): boolean {
    return this.#found.length + this.#others.length > 0
  }

  /**
   * Notes one problem; the same words at the same key are kept once.
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
   * Takes in what is wrong with another file, to be reported in the same go.
   *
   * @param found - its problems
   */
  include(found: readonly Problem[]): void {
    this.#others.push(...found)
  }

  /**
   * Whether something is wrong already at a key, above it or below it, so that a rule need not speak of it again.
   *
   * @param path - key path
   */
  touches(path: KeyPath): boolean {
    const key = path.join('.')
    return this.#found.some(
      ({ path: found }) => found === '' || `${key}.`.startsWith(`${found}.`) || `${found}.`.startsWith(`${key}.`),
    )
  }

  /** All problems in order of line and column, those without a line first; then those of other files. At most 200, the last then says so. */
  inOrder(): readonly Problem[] {
    const sorted = this.#found
      .map(({ problem }) => problem)
      .sort((a, b) => (a.line ?? 0) - (b.line ?? 0) || (a.column ?? 0) - (b.column ?? 0))
    if (sorted.length < MAX_PROBLEMS) return [...sorted, ...this.#others]
    const message = `${MAX_PROBLEMS} problems are listed; there may be more once these are mended`
    return [...sorted, { file: this.#source.file, line: null, column: null, key: '', message }]
  }

  /**
   * Ends the reading if anything is wrong.
   *
   * @throws InputError with every problem, in order of line
   */
  throwIfAny(): void {
    if (this.any) throw new InputError(this.inOrder())
  }
}

/**
 * The known word a person most likely meant, or null where none is close: at most two letters off, and less than
 * half of the word. The limits are ours: looser ones suggest nonsense for short keys.
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
