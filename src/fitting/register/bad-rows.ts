import { InputError, type Problem } from '../../errors.ts'

/** Problems kept with their words (ours: nobody reads more, and a wrong file can have a million). */
const MOST_PROBLEMS = 1000

/** Collects the rows of one file that cannot be read. */
export class BadRows {
  readonly #file: string
  readonly #problems: Problem[] = []
  #count = 0

  constructor(file: string) {
    this.#file = file
  }

  /** How many rows cannot be read. */
  get count(): number {
    return this.#count
  }

  /** The first thousand, in order of line. */
  get problems(): readonly Problem[] {
    return [...this.#problems].sort((a, b) => (a.line ?? 0) - (b.line ?? 0))
  }

  /**
   * Adds one row.
   *
   * @param line - of the file
   * @param key - header of the column
   * @param message - what was found, what is allowed, what to do
   */
  add(line: number, key: string, message: string): void {
    this.#count++
    if (this.#problems.length < MOST_PROBLEMS) {
      this.#problems.push({ file: this.#file, line, column: null, key, message })
    }
  }
}

/**
 * Ends the reading if rows could not be read and are not to be left out.
 *
 * @param files - bad rows by file
 * @param skip - `--skip-bad-rows`
 * @throws InputError with the problems of all files
 */
export function refuseBadRows(files: readonly BadRows[], skip: boolean): void {
  const problems = files.flatMap(file => file.problems)
  const remaining = files.reduce((sum, file) => sum + file.count, 0) - problems.length
  if (skip || problems.length === 0) return
  const first = problems[0]
  const more =
    remaining > 0 && first !== undefined
      ? [{ ...first, line: null, key: '', message: `and ${remaining} more rows that cannot be read` }]
      : []
  throw new InputError([...problems, ...more])
}
