/** A moment at which something happens, with what and to whom. */
export interface QueuedEvent<T> {
  readonly at: number
  readonly order: number
  readonly what: T
}

/** Events in order of time; those of one moment in the order in which they were put in. A binary heap. */
export class EventQueue<T> {
  readonly #heap: QueuedEvent<T>[] = []
  #order = 0

  /** Forgets all events. */
  clear(): void {
    this.#heap.length = 0
    this.#order = 0
  }

  /** Adds an event. */
  put(at: number, what: T): void {
    const heap = this.#heap
    const event = { at, order: this.#order++, what }
    let i = heap.length
    heap.push(event)
    while (i > 0) {
      const parent = (i - 1) >> 1
      const above = heap[parent]
      if (above === undefined || comesBefore(above, event)) break
      heap[i] = above
      i = parent
    }
    heap[i] = event
  }

  /** The earliest event without taking it, or undefined. */
  peek(): QueuedEvent<T> | undefined {
    return this.#heap[0]
  }

  /** Takes the earliest event, or undefined. */
  take(): QueuedEvent<T> | undefined {
    const heap = this.#heap
    const first = heap[0]
    const last = heap.pop()
    if (first === undefined || last === undefined || heap.length === 0) return first
    let i = 0
    for (;;) {
      let child = 2 * i + 1
      let candidate = heap[child]
      if (candidate === undefined) break
      const right = heap[child + 1]
      if (right !== undefined && comesBefore(right, candidate)) {
        child++
        candidate = right
      }
      if (comesBefore(last, candidate)) break
      heap[i] = candidate
      i = child
    }
    heap[i] = last
    return first
  }
}

function comesBefore<T>(a: QueuedEvent<T>, b: QueuedEvent<T>): boolean {
  return a.at < b.at || (a.at === b.at && a.order < b.order)
}
