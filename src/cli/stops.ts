/** Signals that ask a program to stop, and the exit code that says so: 128 and the number of the signal. */
const STOPS = { SIGHUP: 129, SIGINT: 130, SIGTERM: 143 } as const
/** Every container starts its first process with this number, and the system ends that one only where it listens. */
const FIRST_PROCESS = 1

const listeners = Object.entries(STOPS).map(([signal, code]) => ({ signal, stop: () => void tidyAndExit(code) }))

/** From here on a stop takes away what is half-written and ends the program with the exit code of its signal. */
export function listenForStops(): void {
  for (const { signal, stop } of listeners) process.on(signal, stop)
}

/**
 * Carries out work that writes no file and may compute for long without a pause. Meanwhile a stop ends the program at
 * once, as the system does: a listener of ours would have to wait for the pause.
 *
 * @param work - writes nothing
 * @returns what the work returns
 */
export async function stoppedAtOnce<Result>(work: () => Promise<Result>): Promise<Result> {
  if (process.pid === FIRST_PROCESS) return work()
  for (const { signal, stop } of listeners) process.off(signal, stop)
  try {
    return await work()
  } finally {
    listenForStops()
  }
}

async function tidyAndExit(code: number): Promise<void> {
  const { removeUnfinished } = await import('../input/write-whole.ts')
  removeUnfinished()
  process.exit(code)
}
