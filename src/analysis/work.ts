/** Receives the share of the work of a run that is done, [0, 1]. */
export type Progress = (share: number) => void

/** Counts the work of a run: its draws are taken as two fifths of it, its analyses as the rest. */
export class Work {
  /** Counts draws that are played. */
  readonly played: (draws: number) => void
  readonly #progress: Progress
  readonly #draws: number
  readonly #steps: number
  #drawsDone = 0
  #stepsDone = 0

  constructor(progress: Progress, draws: number, steps: number) {
    this.#progress = progress
    this.#draws = draws
    this.#steps = steps
    this.played = count => {
      this.#drawsDone += count
      this.#report()
    }
  }

  /** Counts an analysis when it is done. */
  async step<Found>(found: Promise<Found>): Promise<Found> {
    const result = await found
    this.#stepsDone++
    this.#report()
    return result
  }

  #report(): void {
    this.#progress((0.4 * this.#drawsDone) / this.#draws + (0.6 * this.#stepsDone) / this.#steps)
  }
}
