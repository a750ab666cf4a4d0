import type { KeyPath, SourceValue, TextPlace } from '../../input/problems.ts'
import { show } from '../../input/problems.ts'
import type { Flaw } from '../schema/walk.ts'
import type { Taken } from './taken.ts'

/** A block of keys that may be changed. */
export type RawTable = Record<string, unknown>

/**
 * A scenario on its way from the short form to the full one. It keeps, for each value that moves, the key path that the
 * person wrote, so that a later message names the place in the file.
 */
export class Rewrite {
  readonly taken: Taken[] = []
  /** What is wrong with the words themselves, by their path as written. */
  readonly flaws: Flaw[] = []
  readonly #value: unknown
  readonly #source: SourceValue
  readonly #moved = new Map<string, KeyPath>()

  /** @param source - as parsed; stays as it is */
  constructor(source: SourceValue) {
    this.#source = source
    this.#value = copyOf(source.value)
  }

  /** The value at a path; undefined where nothing is there. */
  at(path: KeyPath): unknown {
    let value = this.#value
    for (const key of path) {
      if (!isTable(value) && !Array.isArray(value)) return undefined
      value = Object.hasOwn(value, key) ? (value as RawTable)[key] : undefined
    }
    return value
  }

  /** The block at a path, to read and change; null where there is none. */
  table(path: KeyPath): RawTable | null {
    const value = this.at(path)
    return isTable(value) ? value : null
  }

  /** The entries of the list at a path; none where there is no list. */
  list(path: KeyPath): readonly unknown[] {
    const value = this.at(path)
    return Array.isArray(value) ? value : []
  }

  /**
   * Puts a value where the full form has it.
   *
   * @param path - of the full form; the block above it must be there
   * @param value - as the full form has it
   * @param from - where the person wrote it
   */
  put(path: KeyPath, value: unknown, from: KeyPath): void {
    const last = path.at(-1)
    const holder = this.at(path.slice(0, -1))
    if (last === undefined || (!isTable(holder) && !Array.isArray(holder)))
      throw new RangeError(`nothing holds ${path.join('.')}`)
      // Both kinds of holder take a value by its key or place.
    ;(holder as RawTable)[last] = value
    if (!same(path, from)) this.#moved.set(keyOf(path), from)
  }

  /** Moves a value as it is, with all below it. */
  move(from: KeyPath, to: KeyPath): void {
    const value = this.at(from)
    this.drop(from)
    this.put(to, value, from)
  }

  /** Takes a key out. */
  drop(path: KeyPath): void {
    const last = path.at(-1)
    const holder = this.table(path.slice(0, -1))
    if (holder !== null && last !== undefined) delete holder[last]
  }

  /** Remembers what a word was taken as. */
  take(from: KeyPath, as: string): void {
    const written = this.writtenAs(from)
    let value = this.#source.value
    for (const key of written) value = isTable(value) || Array.isArray(value) ? (value as RawTable)[key] : undefined
    this.taken.push({ key: written.join('.'), written: typeof value === 'string' ? value : show(value), as })
  }

  /** The path under which a person wrote what is at a path of the full form. */
  writtenAs(path: KeyPath): KeyPath {
    for (let length = path.length; length > 0; length--) {
      const from = this.#moved.get(keyOf(path.slice(0, length)))
      if (from === undefined) continue
      const rest = path.slice(length)
      // A moved value may itself come from an earlier move.
      return this.writtenAs([...from, ...rest])
    }
    return path
  }

  /** The full form, whose places are those of the words it was made from. */
  result(): SourceValue {
    const placeOf = (path: KeyPath): TextPlace => this.#source.placeOf(this.writtenAs(path))
    return { file: this.#source.file, value: this.#value, placeOf, writtenAs: path => this.writtenAs(path) }
  }
}

/** Whether a value is a block of keys. */
export function isTable(value: unknown): value is RawTable {
  return typeof value === 'object' && value !== null && !Array.isArray(value)
}

function copyOf(value: unknown): unknown {
  if (Array.isArray(value)) return value.map(copyOf)
  if (!isTable(value)) return value
  return Object.fromEntries(Object.entries(value).map(([key, child]) => [key, copyOf(child)]))
}

function keyOf(path: KeyPath): string {
  return path.join('\u0000')
}

function same(one: KeyPath, other: KeyPath): boolean {
  return keyOf(one) === keyOf(other)
}
