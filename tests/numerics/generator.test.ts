import { expect, test } from 'vitest'
import { openStream, ReusableStream, type StreamKey, streamKey } from '../../src/numerics/streams.ts'

const WORD = (1n << 64n) - 1n
const turned = (word: bigint, by: bigint): bigint => ((word << by) | (word >> (64n - by))) & WORD

/** xoroshiro128+ with rotations 24, 16, 37, word for word as BLACKMAN, VIGNA (2018) print it. */
function* xoroshiro(first: bigint, second: bigint): Generator<bigint, never> {
  let s0 = first
  let s1 = second
  for (;;) {
    yield (s0 + s1) & WORD
    s1 ^= s0
    s0 = (turned(s0, 24n) ^ s1 ^ (s1 << 16n)) & WORD
    s1 = turned(s1, 37n)
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
  const a = mix(key.high ^ mix(draw + 0x9e3779b9))
  const b = mix(key.low ^ mix(part + 0x7f4a7c15) ^ a)
  const c = mix(a + b + 0x632be59b)
  const joined = (high: number, low: number): bigint => (BigInt(high >>> 0) << 32n) | BigInt(low >>> 0)
  return xoroshiro(joined(a, b), joined(c, mix(b ^ (c + 0x1b873593)) | 1))
}

test('N3: the reference gives the published words of xoroshiro128+ from state 1, 2', () => {
  // made by the authors' xoroshiro128plus.c; printed in the tests of several public libraries
  const published = [
    3n,
    412333834243n,
    2360170716294286339n,
    9295852285959843169n,
    2797080929874688578n,
    6019711933173041966n,
    3076529664176959358n,
    3521761819100106140n,
    7493067640054542992n,
    920801338098114767n,
  ]
  const words = xoroshiro(1n, 2n)
  expect(published.map(() => words.next().value)).toEqual(published)
})

test('N3: a stream gives the low words of the reference, one by one and in one go', () => {
  const reused = new ReusableStream()
  const numbers = new Float64Array(6)
  for (let draw = 0; draw < 50; draw++) {
    const key = streamKey(draw * 1e10, `name ${draw}`)
    const words = reference(key, draw, draw % 3)
    const word = (): number => Number(words.next().value & 0xffffffffn)
    reused.open(key, draw, draw % 3)
    for (let i = 0; i < 100; i++) expect(reused.coarse()).toBe((word() + 0.5) / 4294967296)
    for (let i = 0; i < 20; i++) {
      reused.drawInto(numbers, 5)
      for (let k = 0; k < 5; k++) expect(numbers[k]).toBe((word() + 0.5) / 4294967296)
      expect(numbers[5]).toBe(-Math.log(((word() >>> 5) * 67108864 + (word() >>> 6) + 0.5) / 9007199254740992))
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
