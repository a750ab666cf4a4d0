import { basename, extname, join } from 'node:path'
import { UsageError } from '../errors.ts'
import { EVIDENCE_ROWS } from '../evidence/figure.ts'
import { figureOf } from '../evidence/index.ts'
import { AGE_UNITS, type AgeUnit, unitsPerYear } from '../fitting/age-unit.ts'
import { failureBlock, saidOf } from '../fitting/failure-block.ts'
import { fitRecords } from '../fitting/fit-records.ts'
import type { Prior } from '../fitting/prior.ts'
import { readColumnOptions } from '../fitting/records/columns.ts'
import { dayNumber } from '../fitting/records/dates.ts'
import { readRecords } from '../fitting/records/read-records.ts'
import { needPlace } from '../input/place.ts'
import { nearest } from '../input/problems.ts'
import { readBytes } from '../input/read-text.ts'
import { writeSet } from '../input/write-whole.ts'
import { renderFitReport } from '../report/fit/render-fit.ts'
import { finiteJson } from '../report/write-json.ts'
import { readFolderName } from './option-values.ts'
import { stoppedAtOnce } from './stops.ts'
import { readVersion } from './version.ts'

/** What is written into `--out`. */
const FILES = ['fit.html', 'fit.json', 'failure.yaml'] as const

/** Options of `lifetally fit` as they were typed. */
export interface FitOptions {
  readonly by?: string
  readonly column?: readonly string[]
  readonly ageUnit: string
  readonly asOf?: string
  readonly skipBadRows?: boolean
  readonly shape?: string
  readonly prior?: string
  readonly priorShape?: string
  readonly priorLife?: string
  readonly warrantyYears?: string
  readonly seed: string
  readonly out?: string
  readonly json?: boolean
  readonly quiet?: boolean
}

/**
 * Carries out `lifetally fit`: reads, estimates, writes fit.html, fit.json and failure.yaml.
 *
 * @param path - CSV file, or `-` for standard input
 * @param options - as typed
 * @throws UsageError, InputError, FitError
 */
export async function runFit(path: string, options: FitOptions): Promise<void> {
  const ageUnit = readAgeUnit(options.ageUnit)
  const shape = options.shape === undefined ? null : readNumber('--shape', options.shape, 0.05, 100)
  const prior = readPrior(options, ageUnit)
  if (shape !== null && prior?.shape != null) {
    throw new UsageError('--shape and a prior both speak of the shape; keep one')
  }
  const settings = {
    file: path,
    tool: { name: 'lifetally', version: readVersion() },
    ageUnit,
    seed: readNumber('--seed', options.seed, 0, Number.MAX_SAFE_INTEGER),
    shape,
    prior,
    warrantyYears:
      options.warrantyYears === undefined ? null : readNumber('--warranty-years', options.warrantyYears, 0, 100),
  }
  const folder = readFolderName('--out', options.out) ?? folderFor(path)
  const toFiles = options.json !== true || options.out !== undefined
  if (toFiles) needPlace(folder, FILES)
  const reading = {
    file: path,
    ageUnit,
    choice: { named: readColumnOptions(options.column ?? []), groupBy: options.by ?? null },
    skipBadRows: options.skipBadRows === true,
    asOfDay: options.asOf === undefined ? null : readDate(options.asOf),
  }
  const result = await stoppedAtOnce(async () => fitRecords(await readRecords(readBytes(path), reading), settings))
  const json = finiteJson(result)
  if (options.json === true) process.stdout.write(json)
  if (!toFiles) return
  const files: Record<(typeof FILES)[number], string> = {
    'fit.html': renderFitReport(result, commandLine(path, options)),
    'fit.json': json,
    'failure.yaml': failureBlock(result, 'fit.json'),
  }
  await writeSet(folder, files)
  if (options.quiet !== true && options.json !== true) {
    const warnings = result.warnings.map(
      warning => `\n${warning.group === null ? '' : `${warning.group}: `}${warning.text}`,
    )
    process.stdout.write(
      `${saidOf(result.groups)}; written to ${join(folder, 'fit.html')}, fit.json and failure.yaml.${warnings.join('')}\n`,
    )
  }
}

function folderFor(path: string): string {
  return path === '-' ? 'records-fit' : `${basename(path, extname(path))}-fit`
}

function readAgeUnit(text: string): AgeUnit {
  const unit = AGE_UNITS.find(known => known === text)
  if (unit !== undefined) return unit
  const guess = nearest(text, AGE_UNITS)
  throw new UsageError(
    `--age-unit ${text}: write one of ${AGE_UNITS.join(', ')}${guess === null ? '' : `; did you mean ${guess}?`}`,
  )
}

function readNumber(option: string, text: string, least: number, most: number): number {
  const value = Number(text)
  if (text.trim() === '' || !(value >= least && value <= most)) {
    throw new UsageError(`${option} ${text}: write a number from ${least} to ${most}`)
  }
  return value
}

function readDate(text: string): number {
  const day = dayNumber(text)
  if (day === null) throw new UsageError(`--as-of ${text}: write a date like 2026-03-31`)
  return day
}

/** What is believed beforehand: from the evidence, or as typed, which goes before. */
function readPrior(options: FitOptions, ageUnit: AgeUnit): Prior | null {
  const known = options.prior === undefined ? null : evidencePrior(options.prior, ageUnit)
  const shape = options.priorShape === undefined ? known?.shape : readRange('--prior-shape', options.priorShape)
  const life = options.priorLife === undefined ? known?.life : readRange('--prior-life', options.priorLife)
  return shape == null && life == null ? null : { shape: shape ?? null, life: life ?? null }
}

/** The evidence on wear-out of one kind: 10 % and 90 % points of shape and characteristic life. */
function evidencePrior(text: string, ageUnit: AgeUnit): Prior {
  const row = EVIDENCE_ROWS.find(known => known === text || known === `${text} plain`)
  if (row === undefined) {
    const guess = nearest(text, EVIDENCE_ROWS)
    throw new UsageError(
      `--prior ${text}: the evidence has ${EVIDENCE_ROWS.join(', ')}${guess === null ? '' : `; did you mean ${guess}?`}`,
    )
  }
  const range = (key: string, factor: number): readonly [number, number] | null => {
    const { low, high } = figureOf(row, key)
    return low === null || high === null ? null : [low * factor, high * factor]
  }
  return {
    shape: range('failure.wear_out.shape', 1),
    life: range('failure.wear_out.life_years', unitsPerYear(ageUnit)),
  }
}

function readRange(option: string, text: string): [number, number] {
  const [low, high] = text.split('..').map(Number)
  if (low === undefined || high === undefined || !(low > 0 && high > low && high < Infinity)) {
    throw new UsageError(`${option} ${text}: write low..high, e.g. 2..5, with 0 < low < high`)
  }
  return [low, high]
}

/** The command that makes the files again; nothing of it depends on where they went. */
function commandLine(path: string, options: FitOptions): string {
  const words = ['lifetally', 'fit', quoted(path)]
  const add = (option: string, value: string | undefined): void => {
    if (value !== undefined) words.push(option, quoted(value))
  }
  add('--by', options.by)
  for (const column of options.column ?? []) add('--column', column)
  if (options.ageUnit !== 'years') add('--age-unit', options.ageUnit)
  add('--as-of', options.asOf)
  if (options.skipBadRows === true) words.push('--skip-bad-rows')
  add('--shape', options.shape)
  add('--prior', options.prior)
  add('--prior-shape', options.priorShape)
  add('--prior-life', options.priorLife)
  add('--warranty-years', options.warrantyYears)
  if (options.seed !== '1') add('--seed', options.seed)
  return words.join(' ')
}

function quoted(text: string): string {
  return /^[\w./=:-]+$/.test(text) ? text : `'${text.replace(/'/g, "'\\''")}'`
}
