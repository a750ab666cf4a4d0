/** Different reasons counted; ours: the usual one comes early. */
const MOST_REASONS = 200

/** Why sites are left out, counted. */
export class Reasons {
  readonly #counts = new Map<string, number>()
  #first = ''
  #sites = 0

  /** The first reason with its site; '' without any. */
  get first(): string {
    return this.#first
  }

  /** How many sites, and the reason of most of them, in words that follow a semicolon; '' where none is left out. */
  get usual(): string {
    const [[reason, count] = ['', 0]] = [...this.#counts].sort(([, a], [, b]) => b - a)
    if (count === 0) return ''
    const sites = this.#sites === 1 ? '1 site is' : `${this.#sites} sites are`
    return `; ${sites} left out${count < this.#sites ? `, ${count} of them` : ''}: ${reason}`
  }

  /**
   * Counts one.
   *
   * @param id - of the site
   * @param reason - why it is left out
   */
  take(id: string, reason: string): void {
    this.#sites++
    if (this.#first === '') this.#first = `${id}: ${reason}`
    const count = this.#counts.get(reason)
    if (count !== undefined || this.#counts.size < MOST_REASONS) this.#counts.set(reason, (count ?? 0) + 1)
  }
}
