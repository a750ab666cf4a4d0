import { mkdirSync, mkdtempSync, readdirSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { dirname, join } from 'node:path'
import { LifetallyError } from '../../src/errors.ts'

/** The files of a run by name. */
export type Files = Readonly<Record<string, string | Uint8Array>>

/** A file with one fault, and the message expected. */
export interface Fault {
  readonly name: string
  /** Runs the command on the files of a folder. */
  readonly run: (folder: string, out: string) => Promise<void>
  readonly files: Files
  /** What the message must contain: the file with its line, where it has one, and words. */
  readonly says: readonly string[]
}

/**
 * A fault in one line of a text: the line is counted, and must be in the message.
 *
 * @param text - what is right
 * @param from - a piece of one line; the first of its kind
 * @param to - what replaces it; with line ends the fault is on its last line
 * @param file - name in the message
 */
export function onItsLine(text: string, from: string, to: string, file: string): { text: string; place: string } {
  const at = text.indexOf(from)
  if (at < 0) throw new Error(`the text does not hold: ${from}`)
  const line = (text.slice(0, at) + to).split('\n').length
  return { text: text.slice(0, at) + to + text.slice(at + from.length), place: `${file}:${line}` }
}

/**
 * Carries out a faulty run in a folder of its own.
 *
 * @returns what was wrong with how it ended; '' where it ended as it should
 */
export async function wrongEnd(fault: Fault): Promise<string> {
  const folder = mkdtempSync(join(tmpdir(), 'lifetally-fault-'))
  const out = join(folder, 'out')
  const exitCode = process.exitCode
  try {
    for (const [name, content] of Object.entries(fault.files)) {
      mkdirSync(dirname(join(folder, name)), { recursive: true })
      writeFileSync(join(folder, name), content)
    }
    await fault.run(folder, out)
    return 'it was taken'
  } catch (error) {
    if (!(error instanceof LifetallyError) || error.code === 'non-finite') return `no words for a person: ${error}`
    if (error.exitCode !== 1 && error.exitCode !== 2) return `exit ${error.exitCode}`
    const missing = fault.says.filter(words => !error.message.includes(words))
    if (missing.length > 0) return `"${missing.join('", "')}" is not in: ${error.message}`
    const left = readdirSync(folder, { recursive: true, encoding: 'utf8' }).filter(name => isLeft(name, fault.files))
    return left.length === 0 ? '' : `left behind: ${left.join(', ')}`
  } finally {
    process.exitCode = exitCode
    rmSync(folder, { recursive: true, force: true })
  }
}

/** Whether a file is neither one of the inputs nor what a fleet keeps for --resume. */
function isLeft(name: string, files: Files): boolean {
  const inputs = Object.keys(files)
  return (
    !inputs.some(input => input === name || input.startsWith(`${name}/`)) &&
    !/(^|\/)\.unfinished/.test(name) &&
    name !== 'out'
  )
}
