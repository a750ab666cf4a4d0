import { basename, extname, join } from 'node:path'
import { UsageError } from '../../errors.ts'
import type { AgeUnit } from '../../fitting/age-unit.ts'
import { failureYaml } from '../../fitting/failure-block.ts'
import { fitRecords } from '../../fitting/fit-records.ts'
import type { FitSettings } from '../../fitting/fit-settings.ts'
import { readColumnOptions } from '../../fitting/records/columns.ts'
import { type Records, readRecords } from '../../fitting/records/read-records.ts'
import { type OwnerFiles, readOwnerFiles } from '../../fitting/register/owner-files.ts'
import { needPlace } from '../../input/place.ts'
import { readBytes } from '../../input/read-text.ts'
import { type Content, writeSet } from '../../input/write-whole.ts'
import { fitAnswer } from '../../report/fit/answer.ts'
import { inServiceCsv } from '../../report/fit/in-service-csv.ts'
import { recordsCsv } from '../../report/fit/records-csv.ts'
import { renderFitReport } from '../../report/fit/render-fit.ts'
import { finiteJson } from '../../report/write-json.ts'
import {
  commandLine,
  type FitOptions,
  type FitSource,
  readAgeUnit,
  readDate,
  readNumber,
  readPrior,
  readSource,
} from '../options/fit-options.ts'
import { readFolderName } from '../options/option-values.ts'
import { stoppedAtOnce } from '../stops.ts'
import { print, printError } from '../terminal/output.ts'
import { answerText, fileNames } from '../terminal/say-answer.ts'
import { readVersion } from '../version.ts'

/**
 * Carries out `lifetally fit`: reads, estimates, writes fit.html, fit.json and failure.yaml, and records.csv and
 * in-service.csv where rows were made of a register and tickets; then says the answer.
 *
 * @param path - CSV file, or `-` for standard input; undefined where a register and tickets are given
 * @param options - as typed
 * @throws UsageError, InputError, FitError
 */
export async function runFit(path: string | undefined, options: FitOptions): Promise<void> {
  const source = readSource(path, options)
  const ageUnit = readAgeUnit(options.ageUnit)
  const shape = options.shape === undefined ? null : readNumber('--shape', options.shape, 0.05, 100)
  const prior = readPrior(options, ageUnit)
  if (shape !== null && prior?.shape != null) {
    throw new UsageError('--shape and a prior both set the shape; keep one')
  }
  const named = source.kind === 'records' ? source.path : source.settings.register
  const settings = {
    file: named,
    tool: { name: 'lifetally', version: readVersion() },
    ageUnit,
    seed: readNumber('--seed', options.seed, 0, Number.MAX_SAFE_INTEGER),
    shape,
    prior,
    warrantyYears:
      options.warrantyYears === undefined ? null : readNumber('--warranty-years', options.warrantyYears, 0, 100),
  }
  const folder = readFolderName('--out', options.out) ?? folderFor(named)
  const toFiles = options.json !== true || options.out !== undefined
  const names = [
    'fit.html',
    'fit.json',
    'failure.yaml',
    ...(source.kind === 'owner' ? ['records.csv', 'in-service.csv'] : []),
  ]
  if (toFiles) needPlace(folder, names)
  const { result, rows } = await stoppedAtOnce(async () => {
    const { records, made, rows } = await readSourceFiles(source, options, ageUnit)
    return { result: fitRecords(records, made === undefined ? settings : { ...settings, made }), rows }
  })
  const json = finiteJson(result)
  if (options.json === true) print(json)
  if (toFiles) {
    const files: Record<string, Content> = {
      'fit.html': renderFitReport(result, commandLine(path, options)),
      'fit.json': json,
      'failure.yaml': failureYaml(result, 'fit.json'),
    }
    if (rows !== null) {
      files['records.csv'] = recordsCsv(rows.lives)
      files['in-service.csv'] = inServiceCsv(rows.inService)
    }
    await writeSet(folder, files)
  }
  const paths = toFiles ? names.map(name => join(folder, name)) : []
  const quiet = options.quiet === true
  const write = options.json === true ? printError : print
  write(quiet ? fileNames(paths) : answerText(fitAnswer(result), paths))
}

interface SourceRecords extends Pick<FitSettings, 'made'> {
  readonly records: Records
  /** The rows that were made, and what is in service; null where the records came as rows. */
  readonly rows: Pick<OwnerFiles, 'lives' | 'inService'> | null
}

async function readSourceFiles(source: FitSource, options: FitOptions, ageUnit: AgeUnit): Promise<SourceRecords> {
  const skipBadRows = options.skipBadRows === true
  if (source.kind === 'records') {
    const records = await readRecords(readBytes(source.path), {
      file: source.path,
      ageUnit,
      choice: { named: readColumnOptions(options.column ?? []), groupBy: options.by ?? null },
      skipBadRows,
      asOfDay: options.asOf === undefined ? null : readDate('--as-of', options.asOf),
    })
    return { records, rows: null }
  }
  const { register, tickets } = source.settings
  const { lives, inService, ...made } = await readOwnerFiles(readBytes(register), readBytes(tickets), source.settings)
  // The rows are read like those of any file, so that records.csv by itself gives the same figures.
  const records = await readRecords(recordsCsv(lives), {
    file: 'records.csv',
    ageUnit,
    choice: { named: {}, groupBy: null },
    skipBadRows,
    asOfDay: null,
  })
  return { records, made, rows: { lives, inService } }
}

function folderFor(path: string): string {
  return path === '-' ? 'records-fit' : `${basename(path, extname(path))}-fit`
}
