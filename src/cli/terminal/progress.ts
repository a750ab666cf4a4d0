import { Presets, SingleBar } from 'cli-progress'

/** A progress bar on standard error. */
export interface ProgressBar {
  /** Share of the work done, [0, 1]. */
  readonly to: (share: number) => void
  readonly end: () => void
}

/**
 * Starts a progress bar; a silent one with `--quiet`, with NO_COLOR or without a terminal.
 *
 * @param quiet - from the command line
 */
export function startProgress(quiet: boolean): ProgressBar {
  if (quiet || process.env.NO_COLOR !== undefined || !process.stderr.isTTY) return { to: () => {}, end: () => {} }
  const bar = new SingleBar(
    {
      format: '{bar} {percentage} %  {eta_formatted} left',
      stream: process.stderr,
      clearOnComplete: true,
      // a stop ends the program at once and would leave the cursor hidden
      hideCursor: false,
    },
    Presets.shades_classic,
  )
  bar.start(1000, 0)
  return {
    to: share => bar.update(Math.round(1000 * share)),
    end: () => bar.stop(),
  }
}
