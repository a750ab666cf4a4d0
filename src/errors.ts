/**
 * The kinds of failure a user can meet, each with the exit code of the command.
 * Anything else that is thrown is a bug of ours.
 */

import { onOneLine } from './plain-text.ts'

/** One thing wrong with an input: where it is, what was found, what is allowed. */
export interface Problem {
  /** File as the user named it; `-` for standard input. */
  readonly file: string
  /** Line, from 1; null where the problem has no line. */
  readonly line: number | null
  /** Column, from 1; null where the problem has no column. */
  readonly column: number | null
  /** Key path with dots, e.g. `options.0.components.0.count`; '' for the whole file. */
  readonly key: string
  /** What was found, what is allowed and what to do, in one or two sentences. */
  readonly message: string
}

/** Base of every error that is the user's to mend; `code` is stable, `exitCode` is the command's. */
export class LifetallyError extends Error {
  readonly code: string
  readonly exitCode: number
  constructor(code: string, exitCode: number, message: string, options?: ErrorOptions) {
    super(message, options)
    this.name = new.target.name
    this.code = code
    this.exitCode = exitCode
  }
}

/** An input file that cannot be used; carries all its problems, in order of line. Exit code 1. */
export class InputError extends LifetallyError {
  readonly problems: readonly Problem[]
  constructor(problems: readonly Problem[], options?: ErrorOptions) {
    super('bad-input', 1, problems.map(problemText).join('\n'), options)
    this.problems = problems
  }
}

/** A command called with words that do not fit. Exit code 2. */
export class UsageError extends LifetallyError {
  constructor(message: string, options?: ErrorOptions) {
    super('usage', 2, message, options)
  }
}

/** Field records from which no model can be estimated; says what to look at first. Exit code 1. */
export class FitError extends LifetallyError {
  constructor(message: string, options?: ErrorOptions) {
    super('fit', 1, message, options)
  }
}

/** A figure that came out as no finite number although it has a meaning; names the rule that broke (N4). Exit code 1. */
export class NonFiniteError extends LifetallyError {
  constructor(rule: string, what: string, options?: ErrorOptions) {
    super(
      'non-finite',
      1,
      `rule ${rule}: ${what} is not a finite number; this is a fault of the program or of an extreme input`,
      options,
    )
  }
}

/** A scenario whose units fail so often that playing it would not end (M). Exit code 1. */
export class TooManyFailuresError extends LifetallyError {
  constructor(count: number) {
    super(
      'too-many-failures',
      1,
      `one lifetime has more than ${count - 1} failures and planned replacements: over one a season for each unit. Look whether lives, failed_by and replace_at_age_years are in years`,
    )
  }
}

/**
 * A problem as a person reads it: `file:line:column  key`, then the message indented below.
 *
 * @example problemText({ file: 'roof.yaml', line: 3, column: 1, key: 'sit', message: 'unknown key "sit"' })
 */
export function problemText(problem: Problem): string {
  const place = [problem.file, problem.line, problem.column].filter(part => part !== null).join(':')
  const head = problem.key === '' ? place : `${place}  ${problem.key}`
  return `${onOneLine(head)}\n  ${onOneLine(problem.message)}`
}
