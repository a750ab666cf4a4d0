import { Command, CommanderError } from 'commander'
import { addCheck } from './commands/check.ts'
import { addEstimate } from './commands/estimate.ts'
import { addEvidence } from './commands/evidence.ts'
import { addFitCommand } from './commands/fit.ts'
import { addFleet } from './commands/fleet.ts'
import { addJoin } from './commands/join.ts'
import { addNew } from './commands/new.ts'
import { addSchema } from './commands/schema.ts'
import { exitCodeOf } from './exit-code.ts'
import { listenForStops } from './stops.ts'
import { printError, watchOutput } from './terminal/output.ts'
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

/**
 * Carries out the command that was typed.
 *
 * @returns the exit code; errors have been printed
 */
export async function runProgram(): Promise<number> {
  listenForStops()
  watchOutput()
  process.on('uncaughtException', error => process.exit(exitCodeOf(error)))
  try {
    await buildProgram().parseAsync()
    return Number(process.exitCode ?? 0)
  } catch (error) {
    // Commander has printed its own words by now.
    if (error instanceof CommanderError) return error.exitCode === 0 ? 0 : EXIT_USAGE
    return exitCodeOf(error)
  }
}

function buildProgram(): Command {
  const program = new Command('lifetally')
    .description(
      'Computes what a solar inverter choice costs over its life: failures, repairs, warranty and lost energy.',
    )
    .version(readVersion(), '-V, --version', 'print the version')
    .helpOption('-h, --help', 'show this help')
    .helpCommand('help [command]', 'show the help of a command')
    .showHelpAfterError('Add --help to see how it is used.')
    .addHelpText(
      'after',
      '\nExample:\n  lifetally new roof.yaml        then edit the file\n  lifetally check roof.yaml      all its values, and what is wrong\n  lifetally estimate roof.yaml   the report',
    )
  for (const add of COMMANDS) add(program)
  for (const command of [program, ...program.commands]) {
    command.exitOverride().configureOutput({ writeErr: printError })
  }
  return program
}
