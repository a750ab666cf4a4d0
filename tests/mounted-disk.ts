/** Small disks in memory, for tests of what a full or read-only one does. */
import { spawnSync } from 'node:child_process'
import { mkdtempSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'

/**
 * Mounts a disk.
 *
 * @param options - of a disk in memory, e.g. `size=160k` or `ro`
 * @returns its folder; null where none can be mounted, with a warning
 */
export function mountDisk(options: string): string | null {
  const folder = mkdtempSync(join(tmpdir(), 'lifetally-disk-'))
  if (carriedOut('mount', ['-t', 'tmpfs', '-o', options, 'tmpfs', folder])) return folder
  console.error('\nNO DISK: what a full or read-only disk does was not tested. Run the tests as root.\n')
  return null
}

/** Gives a disk more room. */
export function growDisk(folder: string, size: string): void {
  carriedOut('mount', ['-o', `remount,size=${size}`, folder])
}

/** Unmounts a disk. */
export function unmountDisk(folder: string): void {
  carriedOut('umount', [folder])
}

function carriedOut(command: 'mount' | 'umount', args: readonly string[]): boolean {
  return spawnSync(command, args).status === 0
}
