import { readdir, stat } from 'node:fs/promises'
import { dirname, join } from 'node:path'
import { InputError } from '../../errors.ts'
import { fleetFindings } from '../../fleet/findings/findings.ts'
import { joinParts } from '../../fleet/join-parts.ts'
import { needPlace } from '../../input/place.ts'
import { readDay, readFolderName } from '../options/option-values.ts'
import { print } from '../terminal/output.ts'
import { readVersion } from '../version.ts'
import { closingWords, EXIT_LEFT_OUT, FLEET_FILES, printFleetJson, writeFleet } from './write-fleet.ts'

/**
 * Carries out `lifetally join`.
 *
 * @param paths - part files, or folders that hold them
 * @param options - as typed
 * @throws InputError when the parts do not make one fleet
 */
export async function runJoin(
  paths: readonly string[],
  options: Readonly<Record<string, string | boolean | undefined>>,
): Promise<void> {
  const named = readFolderName('--out', options.out)
  const date = readDay('--date', options.date)
  const files = (await Promise.all(paths.map(partFiles))).flat()
  const folder = named ?? dirname(files[0] ?? '.')
  if (options.json !== true) needPlace(folder, FLEET_FILES)
  const version = readVersion()
  const joined = await joinParts(files, version)
  const results = fleetFindings(joined, { name: 'lifetally', version })
  if (results.fleet.leftOut > 0) process.exitCode = EXIT_LEFT_OUT
  if (options.json === true) {
    printFleetJson(results)
    return
  }
  await writeFleet(folder, results, joined.head.facts.command, date, joined.sitesFiles)
  const quiet = options.quiet === true
  const parts = files.length === 1 ? 'The part was' : `All ${files.length} parts were`
  print(`${quiet ? '' : `${parts} played by version ${version}.\n`}${closingWords(results, folder, quiet)}`)
}

async function partFiles(path: string): Promise<string[]> {
  const found = await stat(path).catch(() => null)
  if (found?.isDirectory() !== true) return [path]
  const names = (await readdir(path)).filter(name => name.endsWith('.part') && !name.startsWith('.'))
  if (names.length === 0)
    throw new InputError([
      {
        file: path,
        line: null,
        column: null,
        key: '',
        message: 'there are no parts (files that end in .part) in this folder',
      },
    ])
  return names.sort().map(name => join(path, name))
}
