import { setFlagsFromString } from 'node:v8'

/** Use of a function before it is compiled for speed, in bytes of its code; Node's own limit is a quarter of it. Ours, measured. */
const BYTES_BEFORE_COMPILING = 600_000

/**
 * Lets the engine of Node 20 compile a function for speed later than it would. Most functions of an estimate or a small fleet are called
 * too rarely to earn that work back, a fifth of the processor time of a run. Later engines have a quicker first compiler and do
 * not know the setting. No result depends on it.
 */
export function compileLater(): void {
  if (process.versions.v8.startsWith('11.')) setFlagsFromString(`--interrupt-budget=${BYTES_BEFORE_COMPILING}`)
}
