/** Prints each figure with that of an earlier run, and keeps it for the file. */
export class Report {
  readonly #figures: Record<string, number> = {}
  readonly #earlier: Readonly<Record<string, unknown>>

  /** @param earlier - content of the file of an earlier run, or null */
  constructor(earlier: unknown) {
    const held = typeof earlier === 'object' && earlier !== null && 'figures' in earlier ? earlier.figures : {}
    this.#earlier = Object.fromEntries(Object.entries(held ?? {}))
  }

  /** Starts a group of figures. */
  head(words: string): void {
    process.stdout.write(`\n${words}\n`)
  }

  /**
   * One figure.
   *
   * @param name - unique; the key in the file
   * @param value - finite
   * @param unit - as printed
   */
  figure(name: string, value: number, unit: string): void {
    this.#figures[name] = value
    const before = this.#earlier[name]
    const change =
      typeof before === 'number' && before !== 0 ? `   was ${round(before)} (× ${round(value / before)})` : ''
    process.stdout.write(`  ${name.padEnd(66)} ${String(round(value)).padStart(9)} ${unit}${change}\n`)
  }

  /**
   * The file that a later run compares itself with.
   *
   * @param goals - what was measured of each
   */
  json(goals: Readonly<Record<string, string>>): string {
    return `${JSON.stringify({ node: process.version, goals, figures: this.#figures }, null, 1)}\n`
  }
}

function round(value: number): number {
  return Number(value.toPrecision(3))
}
