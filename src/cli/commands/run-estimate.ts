import { basename, join } from 'node:path'
import { estimate } from '../../analysis/estimate.ts'
import type { Until } from '../../analysis/means/precision.ts'
import { runnerOf } from '../../analysis/threads.ts'
import { needPlace } from '../../input/place.ts'
import { writeSet } from '../../input/write-whole.ts'
import { renderReport } from '../../report/estimate/render-estimate.ts'
import { terminalAnswer } from '../../report/estimate/terminal-answer.ts'
import { comparisonsCsv, reserveCsv, yearlyCsv } from '../../report/estimate/write-csv.ts'
import { renderSheet } from '../../report/sheet/render-sheet.ts'
import { resultsJson } from '../../report/write-json.ts'
import { loadScenario } from '../../scenario/read-scenario.ts'
import { compileLater } from '../compile-later.ts'
import {
  readAudience,
  readDay,
  readFolderName,
  readLocale,
  readPoints,
  readShare,
  readWhole,
} from '../options/option-values.ts'
import { stoppedAtOnce } from '../stops.ts'
import { print, printError } from '../terminal/output.ts'
import { startProgress } from '../terminal/progress.ts'
import { answerText, fileNames } from '../terminal/say-answer.ts'
import { readVersion } from '../version.ts'
import { MADE_FROM, madeFrom, refuseOtherResults, resultsFolder } from './results-folder.ts'

/** X3: what is played where neither draws nor precision is given. */
const DEFAULT_DRAWS: Until = { precision: 0.001, least: 4000, most: 20_000, every: 1000 }
/** X2: ceiling of draws where a precision is given and no number of draws. */
const PRECISION_DRAWS = 1_000_000
const DRAWS_PER_LOOK = 4000
const MOST_DRAWS = 10_000_000

/** What is written into `--out`. */
const FILES = ['sheet.html', 'report.html', 'results.json', 'yearly.csv', 'reserve.csv', 'comparisons.csv'] as const

/**
 * Carries out `lifetally estimate`.
 *
 * @param path - scenario file, or `-`
 * @param options - as typed
 * @throws UsageError for options that do not fit; InputError for a scenario that does not
 */
export async function runEstimate(
  path: string,
  options: Readonly<Record<string, string | boolean | undefined>>,
): Promise<void> {
  compileLater()
  const precision = options.precision === undefined ? null : readShare('--precision', options.precision)
  const stated = options.draws === undefined ? null : readWhole('--draws', options.draws, 20, MOST_DRAWS)
  const draws = precision === null ? (stated ?? DEFAULT_DRAWS) : untilPrecise(precision, stated ?? PRECISION_DRAWS)
  const seed = readWhole('--seed', options.seed ?? '1', 0, Number.MAX_SAFE_INTEGER)
  const points = readPoints(options.points ?? 'random')
  const threads = options.threads === undefined ? null : readWhole('--threads', options.threads, 1, 256)
  const audience = readAudience(options.for ?? 'buyer')
  const locale = readLocale(options.locale ?? 'en-GB')
  const date = readDay('--date', options.date)
  const quiet = options.quiet === true || options.json === true
  const scenario = await loadScenario(path)
  const folder = readFolderName('--out', options.out) ?? resultsFolder(path)
  if (options.json !== true) {
    needPlace(folder, FILES)
    refuseOtherResults(folder, path)
  }
  const progress = startProgress(quiet)
  const results = await stoppedAtOnce(async () => {
    try {
      return await estimate(
        scenario,
        { draws, seed, points, tool: { name: 'lifetally', version: readVersion() } },
        runnerOf(threads),
        progress.to,
      )
    } finally {
      progress.end()
    }
  })
  const json = resultsJson(results)
  if (options.json === true) {
    print(json)
    if (options.quiet !== true) printError(answerText(terminalAnswer(results, locale), []))
    return
  }
  const command = commandLine(path, stated, precision, seed, points, audience)
  const files: Record<(typeof FILES)[number], string> = {
    'results.json': json,
    'yearly.csv': yearlyCsv(results),
    'reserve.csv': reserveCsv(results),
    'comparisons.csv': comparisonsCsv(results),
    'report.html': renderReport(results, { audience, command, locale }),
    'sheet.html': renderSheet(results, { audience, date, locale }),
  }
  await writeSet(folder, { ...files, [MADE_FROM]: `${madeFrom(folder, path)}\n` })
  const paths = FILES.map(file => join(folder, file))
  print(quiet ? fileNames(paths) : answerText(terminalAnswer(results, locale), paths))
  if (options.open === true) await (await import('../terminal/show-page.ts')).showPage(join(folder, 'report.html'))
}

/** X2: looks at the errors after every 4,000 draws. */
function untilPrecise(precision: number, most: number): Until {
  return { precision, least: DRAWS_PER_LOOK, most, every: DRAWS_PER_LOOK }
}

/** The line that makes the same results again; it does not depend on where they are written. */
function commandLine(
  path: string,
  draws: number | null,
  precision: number | null,
  seed: number,
  points: string,
  audience: string,
): string {
  const number = draws === null ? '' : ` --draws ${draws}`
  const exact = precision === null ? number : `${number} --precision ${precision}`
  const spread = points === 'random' ? '' : ` --points ${points}`
  return `lifetally estimate ${path === '-' ? '-' : basename(path)}${exact} --seed ${seed}${spread} --for ${audience}`
}
