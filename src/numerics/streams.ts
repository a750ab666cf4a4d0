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
 * @source mixing step: finaliser of MurmurHash3 (constants from memory); generator: Blackman & Vigna (2018), xoroshiro128+
 */
export function openStream(key: StreamKey, draw: number, part = 0): Stream {
  return new ReusableStream().open(key, draw, part)
}

/**
 * A stream whose memory serves one draw after another: `open` puts it at the beginning of another stream.
 * The generator is written out here, since a library object a failure costs more than its numbers; a test holds it
 * against the authors' published words.
 */
export class ReusableStream implements Stream {
  // two words of 64 bits, each as high and low 32 bits
  #high0 = 0
  #low0 = 0
  #high1 = 0
  #low1 = 0

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
    const a = mix(keyHigh ^ mix(draw + 0x9e3779b9))
    const b = mix(keyLow ^ mix(part + 0x7f4a7c15) ^ a)
    const c = mix(a + b + 0x632be59b)
    this.#high0 = a
    this.#low0 = b
    this.#high1 = c
    this.#low1 = mix(b ^ (c + 0x1b873593)) | 1 // never all four words 0
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

  /**
   * The next numbers of the stream in one go: some `coarse` ones and then one `exponential`. The same numbers as asked
   * one by one, for less: the state stays at hand.
   *
   * @param out - filled from its beginning
   * @param count - how many coarse numbers; out[count] is the exponential
   */
  drawInto(out: Float64Array, count: number): void {
    let high0 = this.#high0
    let low0 = this.#low0
    let high1 = this.#high1
    let low1 = this.#low1
    let fine = 0
    for (let i = 0; i < count + 2; i++) {
      const word = (low0 + low1) | 0
      const low = low1 ^ low0
      const high = high1 ^ high0
      const turned = (low0 << 24) ^ (high0 >>> 8) ^ low ^ (low << 16)
      high0 = (high0 << 24) ^ (low0 >>> 8) ^ high ^ ((high << 16) | (low >>> 16))
      low0 = turned
      low1 = (high << 5) ^ (low >>> 27)
      high1 = (low << 5) ^ (high >>> 27)
      if (i < count) out[i] = ((word >>> 0) + 0.5) / 4294967296
      else if (i === count) fine = (word >>> 5) * 67108864
      else fine = (fine + (word >>> 6) + 0.5) / 9007199254740992
    }
    out[count] = -Math.log(fine)
    this.#high0 = high0
    this.#low0 = low0
    this.#high1 = high1
    this.#low1 = low1
  }

  /** The low half of the next 64 bits of xoroshiro128+ (rotations 24, 16, 37). */
  #word(): number {
    const high0 = this.#high0
    const low0 = this.#low0
    const low = this.#low1 ^ low0
    const high = this.#high1 ^ high0
    const word = (low0 + this.#low1) | 0
    this.#low0 = (low0 << 24) ^ (high0 >>> 8) ^ low ^ (low << 16)
    this.#high0 = (high0 << 24) ^ (low0 >>> 8) ^ high ^ ((high << 16) | (low >>> 16))
    this.#low1 = (high << 5) ^ (low >>> 27)
    this.#high1 = (low << 5) ^ (high >>> 27)
    return word
  }
}

/**
 * Many streams, one a row, in columns: what `Stream` is for one, for loops over thousands of rows. A row's stream gives
 * the same numbers as `openStream` with its key.
 */
export class StreamColumns {
  #high0 = new Int32Array(64)
  #low0 = new Int32Array(64)
  #high1 = new Int32Array(64)
  #low1 = new Int32Array(64)

  /** Makes room for some rows; those that are there stay. */
  reserve(rows: number): void {
    if (rows <= this.#high0.length) return
    this.#high0 = longer(this.#high0, rows)
    this.#low0 = longer(this.#low0, rows)
    this.#high1 = longer(this.#high1, rows)
    this.#low1 = longer(this.#low1, rows)
  }

  /** Puts a row at the beginning of a stream; see `openStream`. */
  open(row: number, keyHigh: number, keyLow: number, draw: number, part: number): void {
    const a = mix(keyHigh ^ mix(draw + 0x9e3779b9))
    const b = mix(keyLow ^ mix(part + 0x7f4a7c15) ^ a)
    const c = mix(a + b + 0x632be59b)
    this.#high0[row] = a
    this.#low0[row] = b
    this.#high1[row] = c
    this.#low1[row] = mix(b ^ (c + 0x1b873593)) | 1
  }

  /** Lets a row go on where another one stands. */
  follow(row: number, before: number): void {
    this.#high0[row] = this.#high0[before] ?? 0
    this.#low0[row] = this.#low0[before] ?? 0
    this.#high1[row] = this.#high1[before] ?? 0
    this.#low1[row] = this.#low1[before] ?? 0
  }

  /**
   * Draws the next numbers of some rows.
   *
   * @param from - first row
   * @param to - row after the last
   * @param coarse - six entries a row are filled
   * @param exponential - one entry a row is filled
   */
  draw(from: number, to: number, coarse: Float64Array, exponential: Float64Array): void {
    for (let row = from; row < to; row++) {
      let high0 = this.#high0[row] as number // room was made
      let low0 = this.#low0[row] as number
      let high1 = this.#high1[row] as number
      let low1 = this.#low1[row] as number
      let fine = 0
      for (let i = 0; i < 8; i++) {
        const word = (low0 + low1) | 0
        const low = low1 ^ low0
        const high = high1 ^ high0
        const turned = (low0 << 24) ^ (high0 >>> 8) ^ low ^ (low << 16)
        high0 = (high0 << 24) ^ (low0 >>> 8) ^ high ^ ((high << 16) | (low >>> 16))
        low0 = turned
        low1 = (high << 5) ^ (low >>> 27)
        high1 = (low << 5) ^ (high >>> 27)
        if (i < 6) coarse[6 * row + i] = ((word >>> 0) + 0.5) / 4294967296
        else if (i === 6) fine = (word >>> 5) * 67108864
        else fine = (fine + (word >>> 6) + 0.5) / 9007199254740992
      }
      exponential[row] = -Math.log(fine)
      this.#high0[row] = high0
      this.#low0[row] = low0
      this.#high1[row] = high1
      this.#low1[row] = low1
    }
  }
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
