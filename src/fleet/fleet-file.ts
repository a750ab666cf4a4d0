import { statSync } from 'node:fs'
import { readdir } from 'node:fs/promises'
import { basename, dirname, extname, resolve } from 'node:path'
import { z } from 'zod'
import { InputError } from '../errors.ts'
import { Problems, type Source } from '../input/problems.ts'
import { readText } from '../input/read-text.ts'
import { parseYaml } from '../input/yaml.ts'
import { fullSource } from '../scenario/read-scenario.ts'
import { text, wording } from '../scenario/schema/leaf.ts'
import { block, walk } from '../scenario/schema/walk.ts'

const needed = wording('a table from column to key, e.g. {age: components.0.age_years}; null passes a column over')

/** The fleet file as written. */
const fleetBlock = block({
  title: text().optional().describe('Title of the report; default the name of the file.'),
  template: text().describe('Scenario that every site starts from.'),
  option: text().optional().describe('Name of the option that stands on the roofs; default the only one.'),
  sites: text().describe('Table of sites, CSV with a header.'),
  columns: z
    .record(z.string(), z.string({ error: needed }).nullable(), { error: needed })
    .optional()
    .describe('Column -> key of the template.'),
})

/** Where the sites of a fleet come from. */
export type FleetSource =
  | {
      readonly form: 'table'
      readonly title: string
      readonly file: string
      /** The template with the option that stands on the roofs first. */
      readonly template: PlainSource
      readonly baseFolder: string
      readonly option: string
      /** Table of sites as the file names it, and where it is. */
      readonly sites: string
      readonly sitesPath: string
      readonly columns: Readonly<Record<string, string | null>>
      /** Text of both files, for the mark of the fleet. */
      readonly texts: readonly string[]
    }
  | {
      readonly form: 'folder'
      readonly title: string
      readonly file: string
      /** Names of the scenario files, in order. */
      readonly files: readonly string[]
      /** Option of each scenario; null: each has one only. */
      readonly option: string | null
    }

/** Values of a file without their places: plain data that a worker can be given. */
export interface PlainSource {
  readonly file: string
  readonly value: unknown
}

/**
 * Reads a fleet file, or looks into a folder of scenarios.
 *
 * @param path - fleet file or folder
 * @param option - option named on the command line; null: none
 * @returns where the sites come from; the sites themselves are read later, one by one
 * @throws InputError when file or template cannot be used
 */
export async function readFleetSource(path: string, option: string | null): Promise<FleetSource> {
  if (isFolder(path)) return readFolder(path, option)
  const content = await readText(path)
  const source = parseYaml(content, path)
  const problems = new Problems(source)
  const given = walk(fleetBlock, source.value, [], problems)
  problems.throwIfAny()
  if (given === undefined) throw new RangeError('a fleet file without problems has values')
  const folder = dirname(path)
  const templatePath = resolve(folder, given.template ?? '')
  const templateText = await readText(templatePath).catch((cause: unknown) => {
    problems.add(['template'], `${given.template}: ${reasonOf(cause)}`)
    problems.throwIfAny()
    return ''
  })
  const template = fullSource(parseYaml(templateText, given.template ?? ''))
  const chosen = chooseOption(template, option ?? given.option ?? null)
  if (typeof chosen !== 'string') {
    problems.add(['option'], chosen.message)
    problems.throwIfAny()
  }
  const name = typeof chosen === 'string' ? chosen : ''
  return {
    form: 'table',
    title: given.title ?? basename(path, extname(path)),
    file: path,
    template: { file: template.file, value: withOneOption(template.value, name) },
    baseFolder: dirname(templatePath),
    option: name,
    sites: given.sites ?? '',
    sitesPath: resolve(folder, given.sites ?? ''),
    // the walker hands on what the schema took
    columns: (given.columns ?? {}) as Readonly<Record<string, string | null>>,
    texts: [content, templateText, name],
  }
}

async function readFolder(path: string, option: string | null): Promise<FleetSource> {
  const names = (await readdir(path)).filter(name => /\.(ya?ml|json)$/i.test(name) && !name.startsWith('.')).sort()
  if (names.length === 0)
    throw new InputError([
      {
        file: path,
        line: null,
        column: null,
        key: '',
        message: 'this folder holds no scenario (.yaml, .yml or .json)',
      },
    ])
  return { form: 'folder', title: basename(resolve(path)), file: path, files: names, option }
}

/**
 * The option of a scenario that stands on the roof.
 *
 * @param source - scenario as parsed
 * @param wanted - its name; null: the only one
 * @returns the name, or what is wrong
 */
export function chooseOption(source: PlainSource, wanted: string | null): string | { readonly message: string } {
  const names = optionNames(source.value)
  if (wanted !== null) {
    return names.includes(wanted)
      ? wanted
      : { message: `found "${wanted}"; ${source.file} has the options ${names.map(name => `"${name}"`).join(', ')}` }
  }
  const [only, second] = names
  if (only === undefined) return { message: `${source.file} has no options` }
  return second === undefined
    ? only
    : { message: `missing; ${source.file} has several options, name the one that stands on the roofs` }
}

function optionNames(value: unknown): string[] {
  const options = isBlock(value) ? value.options : undefined
  if (!Array.isArray(options)) return []
  return options.flatMap(option => (isBlock(option) && typeof option.name === 'string' ? [option.name] : []))
}

/**
 * A scenario with one option left, the one on the roofs, and with it only the one its energy was quoted for.
 *
 * @param value - scenario in its full form
 * @param name - of the option
 */
export function withOneOption(value: unknown, name: string): unknown {
  if (!isBlock(value) || !Array.isArray(value.options)) return value
  const generation = isBlock(value.site) && isBlock(value.site.generation) ? value.site.generation : {}
  const quoted = generation.as_quoted_for
  const options: readonly unknown[] = value.options
  const own = options.filter(option => isBlock(option) && option.name === name)
  const other = options.filter(option => isBlock(option) && option.name === quoted && quoted !== name)
  return { ...value, options: [...own, ...other] }
}

function isFolder(path: string): boolean {
  try {
    return statSync(path).isDirectory()
  } catch {
    return false
  }
}

function reasonOf(cause: unknown): string {
  if (cause instanceof InputError) return cause.problems[0]?.message ?? 'it cannot be read'
  throw cause
}

/** Whether a parsed value is a block of keys. */
export function isBlock(value: unknown): value is Record<string, unknown> {
  return typeof value === 'object' && value !== null && !Array.isArray(value)
}

/** A source whose places are not known. */
export function withoutPlaces(source: PlainSource): Source {
  return { ...source, placeOf: () => ({ line: null, column: null }) }
}
