import type { Command } from 'commander'
import { print, printJson } from '../terminal/output.ts'

/** Adds `lifetally evidence`: the built-in figures. */
export function addEvidence(program: Command): void {
  program
    .command('evidence')
    .description('list the built-in figures with unit, range, source and how well each is known')
    .option('--json', 'write the figures as JSON')
    .addHelpText('after', '\nExample:\n  lifetally evidence --json')
    .action(async (options: { json?: boolean }) => {
      const { EVIDENCE_FIGURES, weakestOf } = await import('../../evidence/index.ts')
      const { SOURCES } = await import('../../evidence/sources.ts')
      const { listEvidence } = await import('./list-evidence.ts')
      const plain = EVIDENCE_FIGURES.map(figure => ({
        ...figure,
        source: SOURCES[figure.source].text,
        weakest: weakestOf(figure),
      }))
      if (options.json === true) printJson(plain)
      else print(listEvidence(EVIDENCE_FIGURES))
    })
}
