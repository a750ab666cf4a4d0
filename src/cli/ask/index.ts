import { basename, extname } from 'node:path'
import { intro, outro } from '@clack/prompts'
import { UsageError } from '../../errors.ts'
import { writeWhole } from '../../input/write-whole.ts'
import { loadScenario } from '../../scenario/read-scenario.ts'
import { summary } from '../commands/explain-scenario.ts'
import { print, printError } from '../terminal/output.ts'
import { Stopped } from './prompts.ts'
import { askAll, askToPlay } from './questions.ts'
import { scenarioText } from './scenario-text.ts'

const EXIT_STOPPED = 130

/**
 * Carries out `lifetally new FILE --ask`: asks, writes the scenario, checks it, offers to play it.
 *
 * @param path - file to write
 * @throws UsageError without a terminal
 */
export async function ask(path: string): Promise<void> {
  if (!process.stdin.isTTY || !process.stdout.isTTY)
    throw new UsageError(`--ask needs a terminal. Run it in one; or  lifetally new ${path}  writes a file to edit`)
  try {
    intro('A few questions about the roof and its quotes. Press Enter where you do not know; Ctrl-C stops.')
    const text = scenarioText(await askAll(basename(path, extname(path)), path))
    await writeWhole(path, text)
    outro(`${path} is written. Is this right? Open it in any editor to change or add to it.`)
    print(`${text}\n${summary(await loadScenario(path))}\nEvery value with its source:  lifetally check ${path}\n`)
    if (!(await askToPlay())) return
  } catch (error) {
    if (!(error instanceof Stopped)) throw error
    printError('Stopped.\n')
    process.exitCode = EXIT_STOPPED
    return
  }
  const { runEstimate } = await import('../commands/run-estimate.ts')
  await runEstimate(path, {})
}
