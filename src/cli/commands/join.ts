import type { Command } from 'commander'

/** Adds `lifetally join`: the parts of a fleet as one. */
export function addJoin(program: Command): void {
  program
    .command('join')
    .description('join the parts of a fleet; the result is that of one run, to the byte')
    .argument('<parts...>', 'part files in any order, or folders that hold them')
    .option('--date <day>', 'day to print on the sheet, e.g. 2027-03-14 (default: none)')
    .option('--out <folder>', 'where the results are written (default: the folder of the first part)')
    .option('--json', 'write fleet.json to standard output instead of files')
    .option('--quiet', 'at the end only the names of the files')
    .addHelpText('after', '\nExample:\n  lifetally join parts --out reserve')
    .action(async (paths: readonly string[], options: Readonly<Record<string, string | boolean | undefined>>) => {
      const { runJoin } = await import('./run-join.ts')
      await runJoin(paths, options)
    })
}
