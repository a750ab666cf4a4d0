import { existsSync, readFileSync } from 'node:fs'
import { basename, dirname, extname, join, relative, resolve } from 'node:path'
import { UsageError } from '../../errors.ts'

/** File with the results that says which scenario they are of. */
export const MADE_FROM = 'made-from.txt'

/**
 * Where the results of a scenario are written unless `--out` says otherwise: a folder named after it, next to it.
 *
 * @param path - scenario file, or `-`
 */
export function resultsFolder(path: string): string {
  if (path === '-') return 'lifetally-results'
  const name = basename(path, extname(path))
  // A file without an ending has that name itself.
  return join(dirname(path), extname(path) === '' ? `${name}-results` : name)
}

/**
 * What the marker says: the path of the scenario from the folder, so that both may be moved together.
 *
 * @param folder - of the results
 * @param path - scenario file, or `-`
 */
export function madeFrom(folder: string, path: string): string {
  return path === '-' ? '-' : relative(resolve(folder), resolve(path)).replaceAll('\\', '/')
}

/**
 * Refuses a folder that holds the results of another scenario, or of an unknown one.
 *
 * @param folder - of the results
 * @param path - scenario file, or `-`
 * @throws UsageError naming the other scenario where it is known
 */
export function refuseOtherResults(folder: string, path: string): void {
  const marker = join(folder, MADE_FROM)
  if (!existsSync(marker)) {
    if (!existsSync(join(folder, 'results.json'))) return
    throw new UsageError(
      `${folder} holds a results.json, and no ${MADE_FROM} says of which scenario. Name another folder with --out, or move that one away`,
    )
  }
  const other = readFileSync(marker, 'utf8').trim()
  if (other === madeFrom(folder, path)) return
  const of = other === '-' ? 'a scenario read from standard input' : join(folder, other)
  throw new UsageError(`${folder} holds the results of ${of}. Name another folder with --out, or move that one away`)
}
