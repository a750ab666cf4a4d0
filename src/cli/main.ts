#!/usr/bin/env node
import { Command, CommanderError } from 'commander'
import { LifetallyError } from '../errors.ts'
import { addCheck } from './commands/check.ts'
import { addEstimate } from './commands/estimate.ts'
import { addEvidence } from './commands/evidence.ts'
import { addFitCommand } from './commands/fit.ts'
import { addFleet } from './commands/fleet.ts'
import { addJoin } from './commands/join.ts'
import { addNew } from './commands/new.ts'
import { addSchema } from './commands/schema.ts'
import { listenForStops } from './stops.ts'
import { readVersion } from './version.ts'

/** Each adds one command; its work is imported only when it runs, so that start-up stays fast. */
const COMMANDS: readonly ((program: Command) => void)[] = [
  addEstimate,
  addCheck,
  addNew,
  addEvidence,
  addSchema,
  addFitCommand,
  addFleet,
  addJoin,
]

const EXIT_USAGE = 2

listenForStops()
// A reader that closes early (a pager, `head`) is no fault.
process.stdout.on('error', error => {
  if ('code' in error && error.code === 'EPIPE') process.exit(0)
  throw error
})

try {
  await buildProgram().parseAsync()
} catch (error) {
  process.exitCode = tell(error)
}

function buildProgram(): Command {
  const program = new Command('lifetally')
    .description('Says what a solar inverter choice costs over its life: failures, repairs, warranty and lost energy.')
    .version(readVersion(), '-V, --version', 'print the version')
    .helpOption('-h, --help', 'show this help')
    .helpCommand('help [command]', 'show the help of a command')
    .showHelpAfterError('Add --help to see how it is used.')
    .addHelpText(
      'after',
      '\nExample:\n  lifetally new roof.yaml        then edit the file\n  lifetally check roof.yaml      all its values, and what is wrong\n  lifetally estimate roof.yaml   the report',
    )
  for (const add of COMMANDS) add(program)
  for (const command of [program, ...program.commands]) command.exitOverride()
  return program
}

/** Turns an error into words on the error channel and gives the exit code; the only place that does. */
function tell(error: unknown): number {
  // Commander has printed its own words by now.
  if (error instanceof CommanderError) return error.exitCode === 0 ? 0 : EXIT_USAGE
  if (error instanceof LifetallyError) {
    process.stderr.write(`${error.message}\n`)
    return error.exitCode
  }
  const words = (error instanceof Error ? error.message : String(error)).split('\n', 1)[0]
  process.stderr.write(
    `lifetally ${readVersion()} met a fault of its own: ${words}\nPlease report this line with the command you typed and, if you can, the input file.\n`,
  )
  return 1
}
