import { FIRST_ROOM } from '../first-room.ts'

/**
 * Identity of a family of random streams: a seed and a name, mixed to 64 bits (N3).
 */
export interface StreamKey {
  readonly high: number
  readonly low: number
}

/** A source of uniform numbers; two with the same key, draw and part give the same numbers (N3). */
export interface Stream {
  /** Uniform on (0, 1) with 53 random bits; never 0 or 1. */
  uniform(): number
  /** Uniform on (0, 1) with 32 random bits; cheaper, for delays and claims. */
  coarse(): number
  /** Unit exponential, > 0. */
  exponential(): number
}

/**
 * The key of all streams of one name (N3).
 *
 * @param seed - whole number of the run, 0 to 2^53 − 1
 * @param name - what the stream is for, e.g. an option's name and a component's place
 * @returns the key
 */
export function streamKey(seed: number, name: string): StreamKey {
  let high = mix((seed >>> 0) ^ 0x9e3779b9)
  let low = mix((Math.floor(seed / 0x100000000) >>> 0) ^ high ^ 0x85ebca6b)
  for (let i = 0; i < name.length; i++) {
    const unit = name.charCodeAt(i)
    high = mix(Math.imul(high ^ unit, 0x01000193) ^ low)
    low = mix((low + 0x6d2b79f5 + unit) | 0)
  }
  return { high: mix(high ^ name.length), low: mix(low ^ high) }
}

/**
 * The stream of one draw (N3). The state is mixed, since raw small seeds give the generator a poor first number.
 *
 * @param key - from `streamKey`
 * @param draw - number of the draw or block, whole, 0 to 2^32 − 1
 * @param part - which stream of the draw, e.g. a slot, whole, 0 to 2^32 − 1
 * @returns a stream at its beginning
 * @source mixing step: finaliser of MurmurHash3 (constants from memory); generator: Blackman & Vigna (2018), xoroshiro64**
 */
export function openStream(key: StreamKey, draw: number, part = 0): Stream {
  return new ReusableStream().open(key, draw, part)
}

/**
 * A stream whose memory is reused draw after draw: `open` puts it at the beginning of another stream. The generator has
 * two words of 32 bits, so that one stream per slot costs little; a test holds it against the authors' published words.
 */
export class ReusableStream implements Stream {
  #first = 0
  #second = 1

  /**
   * The stream of one draw, as `openStream` gives it.
   *
   * @param key - from `streamKey`
   * @param draw - number of the draw or block, whole, 0 to 2^32 − 1
   * @param part - which stream of the draw, whole, 0 to 2^32 − 1
   * @returns this stream, at its beginning
   */
  open(key: StreamKey, draw: number, part = 0): this {
    return this.openWords(key.high, key.low, draw, part)
  }

  /**
   * The same, the key as two words.
   *
   * @param keyHigh - of the key
   * @param keyLow - of the key
   * @param draw - number of the draw or block, whole, 0 to 2^32 − 1
   * @param part - which stream of the draw, whole, 0 to 2^32 − 1
   * @returns this stream, at its beginning
   */
  openWords(keyHigh: number, keyLow: number, draw: number, part: number): this {
    const ofDraw = mix(keyHigh ^ mix(draw + 0x9e3779b9))
    this.#first = mix(keyLow ^ mix(part + 0x7f4a7c15) ^ ofDraw)
    this.#second = secondWord(ofDraw, this.#first)
    return this
  }

  uniform(): number {
    const high = this.#word() >>> 5
    const low = this.#word() >>> 6
    return (high * 67108864 + low + 0.5) / 9007199254740992
  }

  coarse(): number {
    return ((this.#word() >>> 0) + 0.5) / 4294967296
  }

  exponential(): number {
    return -Math.log(this.uniform())
  }

  /** The next word of xoroshiro64** (rotations 26 and 13, shift 9). */
  #word(): number {
    const first = this.#first
    const both = this.#second ^ first
    this.#first = ((first << 26) | (first >>> 6)) ^ both ^ (both << 9)
    this.#second = (both << 13) | (both >>> 19)
    return scrambled(first)
  }
}

/**
 * Many streams, one per row, in columns, for loops over thousands of rows. A row's stream gives the same numbers as
 * `openStream` with its key.
 */
export class StreamColumns {
  #first = new Int32Array(FIRST_ROOM)
  #second = new Int32Array(FIRST_ROOM)

  /** Reserves memory for some rows; existing rows are kept. */
  reserve(rows: number): void {
    if (rows <= this.#first.length) return
    this.#first = longer(this.#first, rows)
    this.#second = longer(this.#second, rows)
  }

  /** Puts a row at the beginning of a stream; see `openStream`. */
  open(row: number, keyHigh: number, keyLow: number, draw: number, part: number): void {
    const ofDraw = mix(keyHigh ^ mix(draw + 0x9e3779b9))
    const first = mix(keyLow ^ mix(part + 0x7f4a7c15) ^ ofDraw)
    this.#first[row] = first
    this.#second[row] = secondWord(ofDraw, first)
  }

  /** Lets a row continue where another one is. */
  follow(row: number, before: number): void {
    this.#first[row] = this.#first[before] as number // both rows are there
    this.#second[row] = this.#second[before] as number
  }

  /**
   * Draws the next numbers of some rows: six `coarse` ones and then one `exponential`.
   *
   * @param from - first row
   * @param to - row after the last
   * @param coarse - six entries a row are filled
   * @param exponential - one entry a row is filled
   */
  draw(from: number, to: number, coarse: Float64Array, exponential: Float64Array): void {
    const firsts = this.#first
    const seconds = this.#second
    for (let row = from; row < to; row++) {
      let first = firsts[row] as number // room was made
      let second = seconds[row] as number
      for (let i = 6 * row; i < 6 * row + 6; i++) {
        coarse[i] = ((scrambled(first) >>> 0) + 0.5) / 4294967296
        second ^= first
        first = ((first << 26) | (first >>> 6)) ^ second ^ (second << 9)
        second = (second << 13) | (second >>> 19)
      }
      const high = scrambled(first) >>> 5
      second ^= first
      first = ((first << 26) | (first >>> 6)) ^ second ^ (second << 9)
      second = (second << 13) | (second >>> 19)
      const low = scrambled(first) >>> 6
      second ^= first
      firsts[row] = ((first << 26) | (first >>> 6)) ^ second ^ (second << 9)
      seconds[row] = (second << 13) | (second >>> 19)
      exponential[row] = -Math.log((high * 67108864 + low + 0.5) / 9007199254740992)
    }
  }
}

/** What the generator gives for the first word of its state. */
function scrambled(word: number): number {
  const product = Math.imul(word, 0x9e3779bb)
  return Math.imul((product << 5) | (product >>> 27), 5)
}

/** The second word of a state at its beginning; never are both 0. */
function secondWord(ofDraw: number, first: number): number {
  return mix(ofDraw + first + 0x632be59b) | 1
}

function longer(column: Int32Array, rows: number): Int32Array<ArrayBuffer> {
  const made = new Int32Array(rows)
  made.set(column)
  return made
}

function mix(word: number): number {
  let mixed = word ^ (word >>> 16)
  mixed = Math.imul(mixed, 0x85ebca6b)
  mixed ^= mixed >>> 13
  mixed = Math.imul(mixed, 0xc2b2ae35)
  return mixed ^ (mixed >>> 16)
}
