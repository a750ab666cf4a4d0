import { appendFileSync, writeFileSync } from 'node:fs'
import { afterAll } from 'vitest'
import { isMeant } from './play-case.ts'

/**
 * How much is tried; tests/README.md describes it. `LIFETALLY_FUZZ=TIMES,SEED,LOG`: so many times the usual number of
 * cases, from that seed; what breaks is written to the file LOG and the run continues. Without it the usual number is tried
 * and the first case that breaks ends the test.
 */
const [typedTimes, typedSeed, LOG] = process.env.LIFETALLY_FUZZ?.split(',') ?? []
/** Times the usual number of cases, or the usual size. */
export const TIMES = Number(typedTimes ?? 1)
const SEED = Number(typedSeed ?? 20_270_301)

/** Most processor time of one case, milliseconds; other work on the machine is no fault of the case. */
const MOST_MS = 5000
/** Most memory of the process, bytes. */
const MOST_BYTES = 1e9

/** Room for many cases. */
export const LONG = { timeout: 36_000_000 }

/** How the cases of a kind ended, by word, and what they took. */
export class FuzzRun {
  readonly ended: Record<string, number> = {}
  #slowestMs = 0
  #broken = 0

  /** @param kind - what is tried, for the log */
  constructor(readonly kind: string) {
    afterAll(() => {
      const peakMb = Math.round(process.resourceUsage().maxRSS / 1024)
      this.#log(
        JSON.stringify({
          kind,
          seed: SEED,
          ended: this.ended,
          broken: this.#broken,
          slowestMs: Math.round(this.#slowestMs),
          peakMb,
        }),
      )
    })
  }

  /**
   * Settings of the property: seed and number of cases.
   *
   * @param usual - cases of an ordinary run
   */
  settings(usual: number): { readonly seed: number; readonly numRuns: number; readonly endOnFailure: true } {
    return { seed: SEED, numRuns: Math.ceil(usual * TIMES), endOnFailure: true }
  }

  /**
   * One case: it must end with a result, or with an error that has a message for a person, within time and memory.
   *
   * @param text - the file that is tried
   * @param told - what was changed in it
   * @param play - tries it; returns how it ended
   */
  async try(text: string, told: string, play: () => Promise<string>): Promise<void> {
    if (LOG !== undefined) writeFileSync(`${LOG}.${this.kind.replaceAll(' ', '-')}`, text)
    const start = process.cpuUsage()
    let fault: unknown = null
    let ending = 'told'
    try {
      ending = await play()
    } catch (error) {
      if (!isMeant(error)) fault = error
    }
    this.ended[ending] = (this.ended[ending] ?? 0) + 1
    const took = process.cpuUsage(start).user / 1000
    this.#slowestMs = Math.max(this.#slowestMs, took)
    const bytes = process.memoryUsage.rss()
    fault ??= took > MOST_MS ? new Error(`a case took ${took} ms: ${told}`) : null
    fault ??= bytes > MOST_BYTES ? new Error(`${bytes} bytes of memory: ${told}`) : null
    if (fault === null) return
    this.#broken += 1
    if (LOG === undefined) throw fault
    const words = fault instanceof Error ? fault.stack?.slice(0, 900) : fault
    this.#log(`BROKEN ${this.kind}: ${told}\n${words}\n${text.slice(0, 6000)}\n=====`)
  }

  #log(words: string): void {
    if (LOG !== undefined) appendFileSync(LOG, `${words}\n`)
  }
}
