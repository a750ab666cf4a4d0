import type { Command } from 'commander'
import type { FitOptions } from '../options/fit-options.ts'

/** Adds `lifetally fit`: failure models from field records. */
export function addFitCommand(program: Command): void {
  program
    .command('fit')
    .description('estimate failure models from field records, or from a list of units and a list of tickets')
    .argument('[records]', 'CSV file with one row a unit; - reads standard input')
    .option('--register <file>', 'list of units: unit, model, in_service, retired; in place of records')
    .option('--tickets <file>', 'list of tickets: unit, date, closed, text; only with --register')
    .option(
      '--failed-when <words>',
      'words that make a ticket a failure, e.g. "replaced,no output"; * for every ticket',
    )
    .option('--not-when <words>', 'words that make it no failure even so, e.g. "isolator,fuse"')
    .option('--today <date>', 'end of the watch (default: the latest date in the files)')
    .option('--tickets-since <date>', 'day since which tickets were kept, where units are older')
    .option('--date-order <order>', 'day-month or month-day, where no date shows it')
    .option('--same-outage <days>', 'tickets of one unit no further apart are one outage (default: 14)')
    .option('--units <places|serials>', 'what unit names are, where the register does not show it')
    .option(
      '--by <column>',
      'column whose values are the groups; none for one group (default: model, if the file has it)',
    )
    .option('--column <name=header>', 'header of a column under another name; may be repeated', collect)
    .option('--age-unit <unit>', 'unit of ages: hours, days, months or years', 'years')
    .option('--as-of <date>', 'date on which units without an end were still working, e.g. 2026-03-31')
    .option('--skip-bad-rows', 'leave out rows that cannot be read, count and list them, and continue')
    .option('--shape <number>', 'use this Weibull shape and estimate only the life')
    .option(
      '--prior <kind>',
      'prior belief, from the evidence on wear-out, e.g. string-inverter or "string-inverter budget"',
    )
    .option('--prior-shape <low..high>', 'prior belief about the shape, 10 % and 90 % points, e.g. 2..5')
    .option('--prior-life <low..high>', 'prior belief about the characteristic life, in the age unit, e.g. 14..30')
    .option('--warranty-years <number>', 'warranty under which failures were recorded; warns if none came later')
    .option('--seed <number>', 'seed of the joint draws', '1')
    .option('--out <folder>', 'folder for the files it writes (default: named after the file)')
    .option(
      '--json',
      'write fit.json to standard output and the answer to standard error; no files unless --out is given',
    )
    .option('--quiet', 'print only the names of the files')
    .addHelpText(
      'after',
      '\nExample:\n  lifetally fit examples/service-records.csv --warranty-years 5\n  lifetally fit --register units.csv --tickets tickets.csv --failed-when "replaced,no output"',
    )
    .action(async (path: string | undefined, options: FitOptions) => {
      const { runFit } = await import('./run-fit.ts')
      await runFit(path, options)
    })
}

function collect(value: string, before: readonly string[] = []): string[] {
  return [...before, value]
}
