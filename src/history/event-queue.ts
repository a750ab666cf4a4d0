/** Events of one lifetime in order of time; those of one moment in the order in which they were put in. A binary heap. */
export class EventQueue<Slot> {
  /** Numbers of the waiting events, a heap; a smaller number was put in earlier. */
  readonly #heap: number[] = []
  #events = 0
  // by number of the event: when, what, whose, and one whole number that belongs to it
  #at = new Float64Array(256)
  #kind = new Uint8Array(256)
  #row = new Int32Array(256)
  readonly #slot: (Slot | null)[] = []

  /** Forgets all events. */
  clear(): void {
    this.#heap.length = 0
    this.#events = 0
  }

  /** Adds an event. */
  put(at: number, kind: number, slot: Slot | null, row: number): void {
    const event = this.#events++
    if (event >= this.#at.length) this.#grow()
    this.#at[event] = at
    this.#kind[event] = kind
    this.#slot[event] = slot
    this.#row[event] = row
    const heap = this.#heap
    let i = heap.length
    heap.push(event)
    while (i > 0) {
      const parent = (i - 1) >> 1
      const above = heap[parent]
      if (above === undefined || (this.#at[above] ?? 0) <= at) break
      heap[i] = above
      i = parent
    }
    heap[i] = event
  }

  /** The earliest event without taking it; −1 if there is none. */
  peek(): number {
    return this.#heap[0] ?? -1
  }

  /** Takes the earliest event; −1 if there is none. */
  take(): number {
    const heap = this.#heap
    const first = heap[0]
    const last = heap.pop()
    if (first === undefined || last === undefined) return -1
    if (heap.length === 0) return first
    let i = 0
    for (;;) {
      let child = 2 * i + 1
      let candidate = heap[child]
      if (candidate === undefined) break
      const right = heap[child + 1]
      if (right !== undefined && this.#comesBefore(right, candidate)) {
        child++
        candidate = right
      }
      if (this.#comesBefore(last, candidate)) break
      heap[i] = candidate
      i = child
    }
    heap[i] = last
    return first
  }

  /** When an event is, years. */
  at(event: number): number {
    return this.#at[event] ?? Infinity
  }

  /** What it is: the caller's own number. */
  kind(event: number): number {
    return this.#kind[event] ?? 0
  }

  /** Whose it is. */
  slot(event: number): Slot | null {
    return this.#slot[event] ?? null
  }

  /** The row or number that was put in with it. */
  row(event: number): number {
    return this.#row[event] ?? -1
  }

  #comesBefore(a: number, b: number): boolean {
    const atA = this.#at[a] ?? 0
    const atB = this.#at[b] ?? 0
    return atA < atB || (atA === atB && a < b)
  }

  #grow(): void {
    this.#at = doubled(this.#at, Float64Array)
    this.#kind = doubled(this.#kind, Uint8Array)
    this.#row = doubled(this.#row, Int32Array)
  }
}

function doubled<T extends { set(from: T): void; readonly length: number }>(
  column: T,
  kind: new (length: number) => T,
): T {
  const larger = new kind(column.length * 2)
  larger.set(column)
  return larger
}
