import { statSync } from 'node:fs'
import { readdir } from 'node:fs/promises'
import { basename, dirname, extname, resolve } from 'node:path'
import * as z from 'zod'
import { InputError } from '../../errors.ts'
import { DATE_ORDERS, type DateOrder } from '../../fitting/register/written-day.ts'
import { Problems } from '../../input/problems.ts'
import { readText } from '../../input/read-text.ts'
import { parseYaml } from '../../input/yaml.ts'
import { fullSource } from '../../scenario/read-scenario.ts'
import { oneOf, text, wording } from '../../scenario/schema/leaf.ts'
import { scenarioBlock } from '../../scenario/schema/scenario.ts'
import { block, walk } from '../../scenario/schema/walk.ts'
import type { ColumnWishes } from './columns.ts'
import { recordsSeenFrom } from './fleet-records.ts'
import { isBlock, optionBlocks, type PlainSource } from './parsed.ts'

const needed = wording('a table from column to key, e.g. {age: components.0.age_years}')

const neededFit = wording('a table from model to a result of lifetally fit, e.g. {larch-3: "fit.json#larch-3"}')

/** Ages that may be assumed for an empty one (F7a); the first is the default. */
const AGE_UNKNOWN = ['as-the-others', 'new', 'refuse'] as const

/** One of these words. */
export type AgeUnknown = (typeof AGE_UNKNOWN)[number]

/** The fleet file as written. */
const fleetBlock = block({
  title: text().optional().describe('Title of the report; default the name of the file.'),
  template: text().describe('Scenario that every site starts from.'),
  option: text().optional().describe('Name of the option on the roofs; default the only one.'),
  sites: text().describe('Table of sites, CSV with a header.'),
  columns: z
    .record(z.string(), z.string({ error: needed }), { error: needed })
    .optional()
    .describe('Column -> key of the template.'),
  ignore: z
    .array(text(), { error: wording('a list of columns, e.g. [address, remarks]') })
    .optional()
    .describe('Columns that fill nothing.'),
  age_unknown: oneOf(AGE_UNKNOWN).optional().describe('How old a unit is whose age the table leaves empty (F7a).'),
  date_order: oneOf(DATE_ORDERS).optional().describe('Which comes first in dates where both could.'),
  start: scenarioBlock.shape.start.describe('Month of the start; default that of the template.'),
  records: z
    .record(z.string(), z.string({ error: neededFit }), { error: neededFit })
    .optional()
    .describe('Model -> its failures from field records, as failure.records of a scenario.'),
})

/** Where the sites of a fleet come from. */
export type FleetSource =
  | {
      readonly form: 'table'
      readonly title: string
      readonly file: string
      /** The template with all its options. */
      readonly template: PlainSource
      readonly baseFolder: string
      /** The option of sites that name none; null: each site must name its own. */
      readonly option: string | null
      /** Table of sites as the file names it, and where it is. */
      readonly sites: string
      readonly sitesPath: string
      readonly wishes: ColumnWishes
      readonly ageUnknown: AgeUnknown
      /** Which of day and month comes first; null: as the dates of the column allow. */
      readonly dateOrder: DateOrder | null
      /** Model -> failure.records of its units; files relative to `baseFolder`. */
      readonly records: ReadonlyMap<string, string>
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

/**
 * Reads a fleet file, or lists a folder of scenarios.
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
  const wanted = option ?? given.option ?? null
  const chosen = chooseOption(template, wanted)
  if (typeof chosen !== 'string' && wanted !== null) {
    problems.add(['option'], chosen.message)
    problems.throwIfAny()
  }
  const baseFolder = dirname(templatePath)
  // the walker returns what the schema accepted
  const { columns = {}, ignore = [], records = {} } = given as z.output<typeof fleetBlock>
  const seen = recordsSeenFrom(records, folder, baseFolder, problems)
  problems.throwIfAny()
  return {
    form: 'table',
    title: given.title ?? basename(path, extname(path)),
    file: path,
    template: { file: template.file, value: withStart(template.value, given.start) },
    baseFolder,
    option: typeof chosen === 'string' ? chosen : null,
    sites: given.sites ?? '',
    sitesPath: resolve(folder, given.sites ?? ''),
    wishes: { columns, ignore },
    ageUnknown: given.age_unknown ?? 'as-the-others',
    dateOrder: given.date_order ?? null,
    records: seen,
    texts: [content, templateText, option ?? ''],
  }
}

function withStart(template: unknown, start: string | undefined): unknown {
  return start === undefined || !isBlock(template) ? template : { ...template, start }
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
        message: 'there is no scenario (.yaml, .yml or .json) in this folder',
      },
    ])
  return { form: 'folder', title: basename(resolve(path)), file: path, files: names, option }
}

/**
 * The option of a scenario that is on the roof.
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
    : {
        message: `missing; ${source.file} has several options: name the one on the roofs, or give the table a column "option"`,
      }
}

function optionNames(value: unknown): string[] {
  return optionBlocks(value).flatMap(({ name }) => (typeof name === 'string' ? [name] : []))
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
