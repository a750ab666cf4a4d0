import { readFileSync } from 'node:fs'
import { expect, test } from 'vitest'
import { readFittedRecords } from '../../src/scenario/files/fitted-records.ts'

/** A fit.json whose first group has been changed by hand. */
function damaged(change: (group: Group) => void): string {
  const fit = JSON.parse(readFileSync('examples/service-records-fit.json', 'utf8')) as { groups: [Group] }
  change(fit.groups[0])
  return JSON.stringify(fit)
}

interface Group {
  units: number
  failed: number
  models: [{ modes: { shape: number; characteristicLife: number; susceptible: number }[] }]
  draws: { causes: string[]; values: number[][][] }
}

// each of these used to be taken, or to end as a fault of the program
test.each<[string, string, (group: Group) => void]>([
  ['units', 'found -5; allowed: a whole number from 0 to 1,000,000,000', group => (group.units = -5)],
  ['failed', 'found 1.5; allowed: a whole number from 0 to 1,000,000,000', group => (group.failed = 1.5)],
  ['models.0.modes', 'found no failure mode; a model has one or more', group => (group.models[0].modes = [])],
  [
    'models.0.modes.0.shape',
    'found 1e-9; allowed: a number from 0.05 to 10,000',
    group => (group.models[0].modes[0]!.shape = 1e-9),
  ],
  [
    'models.0.modes.0.characteristicLife',
    'found 1e-300; allowed: a number from 1e-20 to 1e+25',
    group => (group.models[0].modes[0]!.characteristicLife = 1e-300),
  ],
  [
    'models.0.modes.0.susceptible',
    'found 0; allowed: a number above 0, at most 1',
    group => (group.models[0].modes[0]!.susceptible = 0),
  ],
  [
    'draws.values.7.0.0',
    'found 20000; allowed: a number from 0.05 to 10,000',
    group => (group.draws.values[7]![0]![0] = 20_000),
  ],
  ['draws.values', 'each set of figures needs one triple a cause', group => (group.draws.values[3] = [])],
  ['draws.causes', 'found no cause; there is one a failure mode', group => (group.draws.causes = [])],
])('U1: a fit.json with a wrong %s is refused with the place: %s', (place, words, change) => {
  expect(() => readFittedRecords(damaged(change), 'fit.json')).toThrow(
    `fit.json\n  the file is no result of \`lifetally fit\` (groups.0.${place}: ${words}); make it anew`,
  )
})
