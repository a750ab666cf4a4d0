/** Signals that ask a program to stop, and their exit codes: 128 plus the number of the signal. */
const STOPS = { SIGHUP: 129, SIGINT: 130, SIGTERM: 143 } as const
/** Id of the first process of a container; the system ends it by a signal only if it listens for that signal. */
const FIRST_PROCESS = 1

const listeners = Object.entries(STOPS).map(([signal, code]) => ({ signal, stop: () => void tidyAndExit(code) }))

/** From here on a stop signal removes half-written files and ends the program with the exit code of the signal. */
export function listenForStops(): void {
  for (const { signal, stop } of listeners) process.on(signal, stop)
}

/**
 * Carries out work that writes no file and may compute for long without a pause. Meanwhile the listeners are off, so
 * that a signal ends the program at once: a listener would have to wait for the pause.
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
