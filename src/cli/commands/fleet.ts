import type { Command } from 'commander'

/** Adds `lifetally fleet`: many sites, one reserve. */
export function addFleet(program: Command): void {
  program
    .command('fleet')
    .description('play many sites: one pooled reserve, one line a site, what strikes many of them at once')
    .argument('<fleet>', 'fleet file (YAML or JSON), or a folder of scenarios')
    .option('--draws <n>', 'lifetimes played for every site', '1000')
    .option('--seed <n>', 'seed of the random numbers', '1')
    .option('--option <name>', 'option that is fitted on the roofs (default: as the fleet file says, or the only one)')
    .option('--part <i/n>', 'play one part of n, for lifetally join (default: as a batch scheduler says, else all)')
    .option('--resume', 'continue where an interrupted run stopped')
    .option('--threads <n>', 'worker threads (default: as many as pay)')
    .option('--date <day>', 'day to print on the sheet, e.g. 2027-03-14 (default: none)')
    .option('--out <folder>', 'where the results are written (default: a folder named after the fleet)')
    .option('--json', 'write fleet.json to standard output instead of files')
    .option('--quiet', 'no progress bar; at the end only the names of the files')
    .addHelpText(
      'after',
      `
Exit code 3: done, with some sites left out; sites.csv says why.
Batch schedulers: the part is read from SLURM_ARRAY_TASK_ID, _COUNT and _MIN, or from JOB_COMPLETION_INDEX with the
number of parts in LIFETALLY_PARTS.

Examples:
  lifetally fleet examples/fleet/fleet.yaml --out reserve
  lifetally fleet examples/fleet/fleet.yaml --part 2/8 --resume --out parts && lifetally join parts --out reserve`,
    )
    .action(async (path: string, options: Readonly<Record<string, string | boolean | undefined>>) => {
      const { runFleet } = await import('./run-fleet.ts')
      await runFleet(path, options)
    })
}
