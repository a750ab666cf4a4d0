import type { TerminalAnswer } from '../../report/estimate/terminal-answer.ts'
import { terminalText, textTable } from './text-table.ts'

/** Columns of the narrowest terminal in use; common practice, no source. */
const COLUMNS = 80

/**
 * The closing words of a command: its answer in at most a dozen lines, then its warnings, then the files it wrote.
 *
 * @param answer - what was found
 * @param files - paths, the one to open first
 * @returns lines of at most 80 characters, but for paths, each ended
 */
export function answerText(answer: TerminalAnswer, files: readonly string[]): string {
  return terminalText(
    [
      `${wrapped(answer.title)}\n`,
      textTable(answer.rows),
      ...answer.sentences.map(sentence => `${wrapped(sentence)}\n`),
      ...answer.warnings.map(warning => `${wrapped(`Note: ${warning}`, '  ')}\n`),
      ...(files.length > 0 ? ['Written:\n'] : []),
      ...files.map(file => `  ${file}\n`),
    ].join(''),
  )
}

/**
 * The files alone, as `--quiet` leaves them.
 *
 * @param files - paths
 * @returns a line each, ended
 */
export function fileNames(files: readonly string[]): string {
  return files.map(file => `${file}\n`).join('')
}

/**
 * Text broken between words.
 *
 * @param text - one paragraph
 * @param indent - before every line but the first
 * @returns lines of at most 80 characters, where words allow it, without an end
 */
export function wrapped(text: string, indent = ''): string {
  const lines: string[] = []
  let line = ''
  for (const word of text.split(' ')) {
    if (line !== '' && line.length + 1 + word.length > COLUMNS) {
      lines.push(line)
      line = indent + word
    } else line = line === '' ? word : `${line} ${word}`
  }
  return [...lines, line].join('\n')
}
