import { randomUUID } from 'node:crypto'
import { readFileSync, rmSync, statSync, utimesSync, writeFileSync } from 'node:fs'
import { hostname } from 'node:os'
import { join, resolve } from 'node:path'
import { setTimeout as wait } from 'node:timers/promises'
import { UsageError } from '../errors.ts'
import { asUsageError, makeFolder, removeEmpty } from './place.ts'

/** Name of the file that shows who holds a folder. */
export const LOCK_FILE = 'lock'

/** Seconds between two updates of the time of the lock. Ours. */
const BEAT_SECONDS = 5
/** Seconds without an update after which a run on another machine counts as ended. Ours: several updates. */
const SILENT_SECONDS = 17

/** Most attempts to remove the lock of an ended run; ours, others may try at the same time. */
const MOST_TRIES = 3

/** A folder that this run alone writes to. */
export interface FolderLock {
  /** Throws a UsageError once another run has taken the folder over. */
  readonly need: () => void
  /** Releases the folder, and removes it and those made for it as far as they are empty. */
  readonly release: () => void
}

/** Who holds a folder. */
interface Holder {
  readonly run: string
  readonly host: string
  readonly pid: number
  /** When the process was started, in the count of the system; '' where unknown. */
  readonly started: string
}

/**
 * Takes a folder for this run alone, so that two runs do not mix their lines. The lock of a killed run is taken over:
 * on this machine at once, from another machine once it is no longer updated.
 *
 * @param folder - made if missing
 * @param silentSeconds - how long to wait for an update from another machine
 * @throws UsageError while another run holds it, or where it cannot be written to
 */
export async function lockFolder(folder: string, silentSeconds = SILENT_SECONDS): Promise<FolderLock> {
  const file = join(folder, LOCK_FILE)
  const made: string[] = []
  const own = { run: randomUUID(), host: hostname(), pid: process.pid, started: startOf(process.pid) }
  try {
    await makeFolder(resolve(folder), made)
    for (let tries = 1; !take(file, own); tries++) {
      const other = await settled(file)
      if (other !== null && (await isRunning(other, file, silentSeconds))) throw held(folder, other)
      if (tries === MOST_TRIES) throw new UsageError(`cannot write to ${folder}: remove ${file} and try again`)
      rmSync(file, { force: true })
    }
  } catch (cause) {
    removeEmpty(made)
    throw asUsageError(folder, cause)
  }
  const isOwn = (): boolean => holderOf(file)?.run === own.run
  const release = (): void => {
    clearInterval(beat)
    process.off('exit', release)
    if (isOwn()) rmSync(file, { force: true })
    removeEmpty([...made.filter(path => path !== resolve(folder)), resolve(folder)])
  }
  const beat = setInterval(() => {
    if (isOwn()) utimesSync(file, new Date(), new Date())
  }, BEAT_SECONDS * 1000).unref()
  process.on('exit', release)
  return {
    need: () => {
      if (!isOwn())
        throw new UsageError(`another run has taken over ${folder}, so this one stops; what it did is kept there`)
    },
    release,
  }
}

/** Makes the lock; false where there is one. */
function take(file: string, own: Holder): boolean {
  try {
    writeFileSync(file, JSON.stringify(own), { flag: 'wx' })
    return true
  } catch (cause) {
    if (cause instanceof Error && 'code' in cause && cause.code === 'EEXIST') return false
    throw cause
  }
}

function held(folder: string, { host, pid }: Holder): UsageError {
  const where = host === hostname() ? '' : ` on ${JSON.stringify(host)}`
  return new UsageError(
    `another run (process ${pid}${where}) is writing to ${folder}; wait for its end, stop it, or name another folder with --out`,
  )
}

/** Who holds the lock; null where nobody does or the file is no lock. */
function holderOf(file: string): Holder | null {
  try {
    const found: unknown = JSON.parse(readFileSync(file, 'utf8'))
    if (typeof found !== 'object' || found === null || !('run' in found)) return null
    const { run, host, pid, started } = found as Record<string, unknown> // an object, see above
    return { run: String(run), host: String(host), pid: Number(pid), started: String(started) }
  } catch {
    return null
  }
}

/** Who holds the lock. One that cannot be read is being written, or was cut short when its run was killed. */
async function settled(file: string): Promise<Holder | null> {
  const found = holderOf(file)
  if (found !== null || statSync(file, { throwIfNoEntry: false }) === undefined) return found
  await wait(1000)
  return holderOf(file)
}

async function isRunning({ host, pid, started }: Holder, file: string, silentSeconds: number): Promise<boolean> {
  if (host === hostname()) return isAlive(pid) && startOf(pid) === started
  const last = beatOf(file)
  await wait(silentSeconds * 1000)
  return beatOf(file) !== last
}

function beatOf(file: string): number {
  return statSync(file, { throwIfNoEntry: false })?.mtimeMs ?? 0
}

function isAlive(pid: number): boolean {
  try {
    process.kill(pid, 0)
    return true
  } catch (cause) {
    // a process of another user exists but may not be signalled
    return cause instanceof Error && 'code' in cause && cause.code === 'EPERM'
  }
}

/** Process numbers are reused; number and start identify a process. The start is field 22 of proc(5) on Linux. */
function startOf(pid: number): string {
  try {
    const fields = readFileSync(`/proc/${pid}/stat`, 'latin1').replace(/^.*\)/s, '').trim().split(' ')
    return `${readFileSync('/proc/sys/kernel/random/boot_id', 'latin1').trim()} ${fields[19] ?? ''}`
  } catch {
    return ''
  }
}
