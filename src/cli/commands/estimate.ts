import type { Command } from 'commander'

/** Adds `lifetally estimate`: plays a scenario and writes the report. */
export function addEstimate(program: Command): void {
  program
    .command('estimate')
    .description('play a scenario: what each option costs over its life, how much energy it loses, how sure that is')
    .argument('<scenario>', 'YAML or JSON file; - reads standard input')
    .option(
      '--draws <n>',
      'lifetimes played for each option; with --precision, the most (default: 4000 to 20000, until every error is under 0.1% of the lowest cost)',
    )
    .option('--precision <share>', 'keep drawing until every error is under this share of the lowest cost, e.g. 0.5%')
    .option('--seed <n>', 'seed of the random numbers', '1')
    .option('--points <kind>', 'random, or even: evenly spread first failures, for smaller errors', 'random')
    .option('--threads <n>', 'worker threads (default: as many as pay)')
    .option('--for <reader>', 'who is led through the report: buyer, retailer or owner', 'buyer')
    .option('--locale <tag>', 'digits and separators of the report, e.g. de-DE', 'en-GB')
    .option('--date <day>', 'day to print on the sheet, e.g. 2027-03-14 (default: none)')
    .option('--out <folder>', 'where the results are written (default: a folder named after the scenario, next to it)')
    .option('--json', 'write the results to standard output instead of files')
    .option('--open', 'show the report when it is written')
    .option('--quiet', 'no progress bar; at the end only the names of the files')
    .addHelpText(
      'after',
      '\nExample:\n  lifetally estimate examples/home-four-topologies.yaml --for buyer --out my-roof',
    )
    .action(async (path: string, options: Readonly<Record<string, string | boolean | undefined>>) => {
      const { runEstimate } = await import('./run-estimate.ts')
      await runEstimate(path, options)
    })
}
