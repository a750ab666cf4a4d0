import type { Command } from 'commander'
import { print } from '../terminal/output.ts'

/** Adds `lifetally new`: a commented starter scenario. */
export function addNew(program: Command): void {
  program
    .command('new')
    .description('write a commented starter scenario')
    .argument('<file>', 'file to write; must not exist yet; - writes to standard output')
    .option('--ask', 'ask for what the quotes say, one question after another, and write it from the answers')
    .addHelpText(
      'after',
      '\nExample:\n  lifetally new roof.yaml\n  lifetally new roof.yaml --ask\n\nThen edit the file, and: lifetally check roof.yaml, lifetally estimate roof.yaml',
    )
    .action(async (path: string, options: { ask?: boolean }) => {
      const { STARTER } = await import('../../scenario/starter.ts')
      if (path === '-' && options.ask !== true) {
        print(STARTER)
        return
      }
      const { existsSync } = await import('node:fs')
      const { UsageError } = await import('../../errors.ts')
      if (existsSync(path)) throw new UsageError(`${path} exists already; name a new file, or move the old one away`)
      if (options.ask === true) {
        await (await import('../ask/index.ts')).ask(path)
        return
      }
      const { writeWhole } = await import('../../input/write-whole.ts')
      await writeWhole(path, STARTER)
      print(
        `${path} is written. It runs as it is; put your own figures in. Then the same command with\n  check ${path}\n  estimate ${path}\n`,
      )
    })
}
