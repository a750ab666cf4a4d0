import { basename, dirname, extname } from 'node:path'
import { Problems, type SourceValue } from '../input/problems.ts'
import { readText } from '../input/read-text.ts'
import { parseYaml } from '../input/yaml.ts'
import { onOneLine } from '../plain-text.ts'
import { readFittedFiles } from './files/fitted-files.ts'
import { readHourlyFiles } from './files/hourly-files.ts'
import type { Scenario } from './model.ts'
import { resolve } from './resolve.ts'
import { checkRules } from './rules/index.ts'
import { type GivenScenario, scenarioBlock } from './schema/scenario.ts'
import { walk } from './schema/walk.ts'
import { fullForm } from './short-form/index.ts'
import { thousandsPoints } from './short-form/thousands-points.ts'

/**
 * Reads a scenario from text.
 *
 * @param text - YAML or JSON
 * @param file - name for messages; its base without ending is the title where none is given
 * @param baseFolder - folder that relative paths in the scenario start from
 * @returns the complete scenario
 * @throws InputError with every problem of the file, in order of line
 */
export function readScenario(text: string, file: string, baseFolder: string): Scenario {
  return scenarioFrom(parseYaml(text, file), baseFolder)
}

/**
 * Reads a scenario from values that were parsed already, such as a template with some values replaced.
 *
 * @param source - values with their places
 * @param baseFolder - folder that relative paths in the scenario start from
 * @throws InputError with every problem, in order of line
 */
export function scenarioFrom(source: SourceValue, baseFolder: string): Scenario {
  const { full, taken, problems } = inFull(source)
  const draft = walk(scenarioBlock, full.value, [], problems)
  if (draft !== undefined) checkRules(draft, problems)
  const files = readHourlyFiles(draft ?? {}, baseFolder, problems)
  problems.throwIfAny()
  // Without problems the draft has no gaps: it is the whole scenario as written.
  const given = draft as GivenScenario
  const fitted = readFittedFiles(given, baseFolder, problems)
  problems.throwIfAny()
  return { ...resolve(given, titleFrom(source.file), files, fitted), taken }
}

/**
 * A scenario as parsed, in its full form, before it is checked: a column of a fleet can then fill any of its keys (F7a).
 *
 * @param source - values with their places
 * @returns its values in the full form, with the places of the words they were made from
 * @throws InputError when a word of the short form is wrong by itself
 */
export function fullSource(source: SourceValue): SourceValue {
  const { full, problems } = inFull(source)
  problems.throwIfAny()
  return full
}

function inFull(source: SourceValue) {
  const { source: full, taken, flaws } = fullForm(source)
  const problems = new Problems(full)
  for (const { path, message } of [...flaws, ...thousandsPoints(source)]) problems.add(path, message)
  return { full, taken, problems }
}

/**
 * Reads a scenario file.
 *
 * @param path - file, or `-` for standard input
 * @throws InputError when it cannot be read or used
 */
export async function loadScenario(path: string): Promise<Scenario> {
  return readScenario(await readText(path), path, path === '-' ? process.cwd() : dirname(path))
}

function titleFrom(file: string): string {
  return file === '-' ? 'Scenario' : onOneLine(basename(file, extname(file)))
}
