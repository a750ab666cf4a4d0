import { basename, extname, join, resolve } from 'node:path'
import { UsageError } from '../../errors.ts'
import { fleetFindings } from '../../fleet/findings/findings.ts'
import { sitesFileOf } from '../../fleet/join-parts.ts'
import { partBytes } from '../../fleet/part-file.ts'
import { type PlayedPart, playPart } from '../../fleet/play-part.ts'
import { readFleetSource } from '../../fleet/sites/fleet-file.ts'
import { lockFolder } from '../../input/folder-lock.ts'
import { needPlace } from '../../input/place.ts'
import { writeSet } from '../../input/write-whole.ts'
import { compileLater } from '../compile-later.ts'
import { readDay, readFolderName, readWhole } from '../options/option-values.ts'
import { type PartOfFleet, readPartOption } from '../options/part-option.ts'
import { print } from '../terminal/output.ts'
import { startProgress } from '../terminal/progress.ts'
import { fileNames } from '../terminal/say-answer.ts'
import { readVersion } from '../version.ts'
import { closingWords, EXIT_LEFT_OUT, FLEET_FILES, printFleetJson, writeFleet } from './write-fleet.ts'

const MOST_DRAWS = 100_000
/** Sites in a chunk. Ours: about half a second of work for homes, so that little is lost and threads share evenly. */
const CHUNK_SITES = 500
const SAVE_EVERY_SECONDS = 5
/** Folder, inside that of the results, for the work of an unfinished run; each part has its own. */
const WORK_FOLDER = '.unfinished'

/**
 * Carries out `lifetally fleet`.
 *
 * @param path - fleet file or folder of scenarios
 * @param options - as typed
 * @throws UsageError for options that do not fit; InputError for a fleet that does not
 */
export async function runFleet(
  path: string,
  options: Readonly<Record<string, string | boolean | undefined>>,
): Promise<void> {
  compileLater()
  const draws = readWhole('--draws', options.draws ?? '1000', 20, MOST_DRAWS)
  const seed = readWhole('--seed', options.seed ?? '1', 0, Number.MAX_SAFE_INTEGER)
  const threads = options.threads === undefined ? null : readWhole('--threads', options.threads, 1, 256)
  const chosen = readPartOption(options.part, process.env)
  if (chosen !== null && options.json === true) throw new UsageError('--json writes whole fleets; a part is a file')
  const date = readDay('--date', options.date)
  if (chosen !== null && date !== null)
    throw new UsageError(
      '--date is printed on the sheet of a whole fleet, which join writes: give it to lifetally join',
    )
  const option = typeof options.option === 'string' ? options.option : null
  const quiet = options.quiet === true
  const folder = readFolderName('--out', options.out) ?? defaultFolder(path)
  const workFolder = join(folder, chosen === null ? WORK_FOLDER : `${WORK_FOLDER}-${chosen.part}-of-${chosen.parts}`)
  needPlace(folder, options.json === true ? [] : namesOf(chosen))
  needPlace(workFolder, [])
  const lock = await lockFolder(workFolder)
  try {
    const source = await readFleetSource(path, option)
    const progress = startProgress(quiet || options.json === true)
    const played = await playPart(
      source,
      {
        seed,
        draws,
        threads,
        part: chosen?.part ?? 1,
        parts: chosen?.parts ?? 1,
        workFolder,
        resume: options.resume === true,
        version: readVersion(),
        command: commandLine(path, draws, seed, option),
        chunkSites: CHUNK_SITES,
        saveEverySeconds: SAVE_EVERY_SECONDS,
        now: () => performance.now() / 1000,
        needFolder: lock.need,
      },
      progress.to,
    ).finally(progress.end)
    const words = await writeResults(played, { folder, chosen, date, quiet, toOutput: options.json === true })
    await played.forget()
    print(words)
  } finally {
    lock.release()
  }
}

/** What is to be written, and where. */
interface Wished {
  readonly folder: string
  readonly chosen: PartOfFleet | null
  readonly date: string | null
  readonly quiet: boolean
  readonly toOutput: boolean
}

/** Writes what was played; gives the closing words. */
async function writeResults(played: PlayedPart, { folder, chosen, date, quiet, toOutput }: Wished): Promise<string> {
  const leftOut = played.sums.column('leftOut')[0] ?? 0
  if (leftOut > 0) process.exitCode = EXIT_LEFT_OUT
  if (chosen !== null) {
    const name = partName(chosen)
    await writeSet(folder, { [name]: partBytes(played), [sitesFileOf(name)]: { movedFrom: played.sitesFile } })
    const files = [join(folder, name), join(folder, sitesFileOf(name))]
    return quiet ? fileNames(files) : `Part ${chosen.part} of ${chosen.parts} is in ${files[0]}\n`
  }
  const results = fleetFindings(played, { name: 'lifetally', version: played.head.version })
  if (toOutput) {
    printFleetJson(results)
    return ''
  }
  await writeFleet(folder, results, played.head.facts.command, date, [played.sitesFile])
  return closingWords(results, folder, quiet)
}

function partName({ part, parts }: PartOfFleet): string {
  return `part-${part}-of-${parts}.part`
}

function namesOf(chosen: PartOfFleet | null): readonly string[] {
  return chosen === null ? FLEET_FILES : [partName(chosen), sitesFileOf(partName(chosen))]
}

function defaultFolder(path: string): string {
  const name = basename(resolve(path))
  return `${name.slice(0, name.length - extname(name).length)}-results`
}

/** The line that makes the same results again; neither parts nor threads belong to it. */
function commandLine(path: string, draws: number, seed: number, option: string | null): string {
  const named = option === null ? '' : ` --option ${JSON.stringify(option)}`
  return `lifetally fleet ${basename(resolve(path))} --draws ${draws} --seed ${seed}${named}`
}
