import { expect, test } from 'vitest'
import {
  openStream,
  ReusableStream,
  StreamColumns,
  type StreamKey,
  streamKey,
} from '../../src/numerics/random/streams.ts'

const WORD = (1n << 32n) - 1n
const turned = (word: bigint, by: bigint): bigint => ((word << by) | (word >> (32n - by))) & WORD

/** xoroshiro64** with rotations 26 and 13, shift 9, word for word as BLACKMAN, VIGNA (2018) print it. */
function* xoroshiro(first: bigint, second: bigint): Generator<bigint, never> {
  let s0 = first
  let s1 = second
  for (;;) {
    yield (turned((s0 * 0x9e3779bbn) & WORD, 5n) * 5n) & WORD
    s1 ^= s0
    s0 = (turned(s0, 26n) ^ s1 ^ (s1 << 9n)) & WORD
    s1 = turned(s1, 13n)
  }
}

/** The mixing step of the streams, written a second time, so that the reference can be put at the same state. */
function mix(word: number): number {
  let mixed = word ^ (word >>> 16)
  mixed = Math.imul(mixed, 0x85ebca6b)
  mixed ^= mixed >>> 13
  mixed = Math.imul(mixed, 0xc2b2ae35)
  return mixed ^ (mixed >>> 16)
}

function reference(key: StreamKey, draw: number, part: number): Generator<bigint, never> {
  const ofDraw = mix(key.high ^ mix(draw + 0x9e3779b9))
  const first = mix(key.low ^ mix(part + 0x7f4a7c15) ^ ofDraw)
  const second = mix(ofDraw + first + 0x632be59b) | 1
  return xoroshiro(BigInt(first >>> 0), BigInt(second >>> 0))
}

test('N3: the reference gives the published words of xoroshiro64** from state 1, 2', () => {
  // made by the authors' xoroshiro64starstar.c; printed in the tests of several public libraries
  const published = [
    3802928447n,
    813792938n,
    1618621494n,
    2955957307n,
    3252880261n,
    1129983909n,
    2539651700n,
    1327610908n,
    1757650787n,
    2763843748n,
  ]
  const words = xoroshiro(1n, 2n)
  expect(published.map(() => words.next().value)).toEqual(published)
})

test('N3: a stream gives the words of the reference, one by one and in columns', () => {
  const reused = new ReusableStream()
  const columns = new StreamColumns()
  columns.reserve(50)
  const coarse = new Float64Array(6 * 50)
  const exponential = new Float64Array(50)
  for (let draw = 0; draw < 50; draw++) {
    const key = streamKey(draw * 1e10, `name ${draw}`)
    const words = reference(key, draw, draw % 3)
    const word = (): number => Number(words.next().value)
    reused.open(key, draw, draw % 3)
    for (let i = 0; i < 100; i++) expect(reused.coarse()).toBe((word() + 0.5) / 4294967296)
    columns.open(draw, key.high, key.low, draw, draw % 3)
    const again = reference(key, draw, draw % 3)
    const next = (): number => Number(again.next().value)
    for (let failure = 0; failure < 20; failure++) {
      columns.draw(draw, draw + 1, coarse, exponential)
      for (let k = 0; k < 6; k++) expect(coarse[6 * draw + k]).toBe((next() + 0.5) / 4294967296)
      expect(exponential[draw]).toBe(-Math.log(((next() >>> 5) * 67108864 + (next() >>> 6) + 0.5) / 9007199254740992))
    }
  }
})

test('N3: a stream opened anew is the stream of its key, whatever was drawn before', () => {
  const key = streamKey(7, 'lives')
  const reused = new ReusableStream()
  reused.open(streamKey(8, 'other'), 3).uniform()
  const fresh = openStream(key, 12, 5)
  reused.open(key, 12, 5)
  for (let i = 0; i < 20; i++) expect(reused.exponential()).toBe(fresh.exponential())
})
