import type { History } from '../../history/history.ts'
import { FIRST_ROOM } from '../../numerics/first-room.ts'
import type { OutageWindows } from '../outages/outage-windows.ts'
import type { OptionTerms } from '../terms.ts'

/**
 * Runs of outages of a lifetime: those that overlap one another, or would under some claims. What a run loses depends on no
 * outage outside it. The memory is reused.
 */
export class OutageRuns {
  /** By row of the component: the first window of its run. */
  of = new Int32Array(FIRST_ROOM)
  /** By first window of a run: the window after its last. */
  end = new Int32Array(FIRST_ROOM)
  /** By population: its claim days, years. */
  #claimYears = new Float64Array(FIRST_ROOM)

  /**
   * Finds the runs of all lifetimes.
   *
   * @param history - the lifetimes
   * @param terms - of the option
   * @param windows - their outages
   * @param place - of the component
   */
  find({ n, rows }: History, { units }: OptionTerms, windows: OutageWindows, place: number): void {
    const { first, start, end: endOf, place: placeOf, row: rowOf } = windows
    this.#reserve(rows[place]?.n ?? 0, first[n] as number, units.length)
    const { of, end } = this
    const claimYears = this.#claimYears
    for (let i = 0; i < units.length; i++) claimYears[i] = units[i]?.claimYears ?? 0
    for (let lane = 0; lane < n; lane++) {
      const to = first[lane + 1] as number // every lane has its entry
      let run = first[lane] as number
      let latest = -1
      for (let window = run; window < to; window++) {
        if ((start[window] as number) > latest) {
          end[run] = window
          run = window
        }
        const own = placeOf[window] as number // the window is there
        // at most: it may be claimed already
        const reach = (endOf[window] as number) + (claimYears[own] as number)
        if (reach > latest) latest = reach
        if (own === place) of[rowOf[window] as number] = run
      }
      end[run] = to
    }
  }

  /** Whether the outage of a row overlaps no other, whatever is claimed. */
  alone(row: number): boolean {
    const run = this.of[row] as number // the row is there
    return this.end[run] === run + 1
  }

  #reserve(rows: number, windows: number, populations: number): void {
    if (this.of.length < rows) this.of = new Int32Array(2 * rows)
    // one more: a lifetime without outages writes an entry too
    if (this.end.length <= windows) this.end = new Int32Array(2 * windows + 1)
    if (this.#claimYears.length < populations) this.#claimYears = new Float64Array(2 * populations)
  }
}
