import { setFlagsFromString } from 'node:v8'

/**
 * Settings with which the engine of Node 20 compiles a function for speed only after four times as much use as its own
 * limit: 600,000 bytes of its code (ours, measured in `src/analysis/README.md`). Most functions of an estimate or a small
 * fleet are called too rarely for that work to pay. Later engines do not know the setting. No result depends on it.
 */
export const LATER_COMPILATION: readonly string[] = process.versions.v8.startsWith('11.')
  ? ['--interrupt-budget=600000']
  : []

/** Applies them to this process. */
export function compileLater(): void {
  for (const setting of LATER_COMPILATION) setFlagsFromString(setting)
}
