import type { Command } from 'commander'
import { print } from '../output.ts'

/** Adds `lifetally new`: a commented starter scenario. */
export function addNew(program: Command): void {
  program
    .command('new')
    .description('write a commented starter scenario')
    .argument('<file>', 'file to write; must not exist yet; - writes to standard output')
    .addHelpText(
      'after',
      '\nExample:\n  lifetally new roof.yaml\n\nThen edit the file, and: lifetally check roof.yaml, lifetally estimate roof.yaml',
    )
    .action(async (path: string) => {
      const { STARTER } = await import('../../scenario/starter.ts')
      if (path === '-') {
        print(STARTER)
        return
      }
      const { existsSync } = await import('node:fs')
      const { UsageError } = await import('../../errors.ts')
      if (existsSync(path)) throw new UsageError(`${path} exists already; name a new file, or move the old one away`)
      const { writeWhole } = await import('../../input/write-whole.ts')
      await writeWhole(path, STARTER)
      print(
        `${path} is written. It runs as it is; put your own figures in. Then the same command with\n  check ${path}\n  estimate ${path}\n`,
      )
    })
}
