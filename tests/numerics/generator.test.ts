import { xoroshiro128plusFromState } from 'pure-rand/generator/xoroshiro128plus'
import { expect, test } from 'vitest'
import { openStream, ReusableStream, type StreamKey, streamKey } from '../../src/numerics/streams.ts'

/** The mixing step of the streams, written a second time, so that the library can be put at the same state. */
function mix(word: number): number {
  let mixed = word ^ (word >>> 16)
  mixed = Math.imul(mixed, 0x85ebca6b)
  mixed ^= mixed >>> 13
  mixed = Math.imul(mixed, 0xc2b2ae35)
  return mixed ^ (mixed >>> 16)
}

function library(key: StreamKey, draw: number, part: number): { next(): number } {
  const a = mix(key.high ^ mix(draw + 0x9e3779b9))
  const b = mix(key.low ^ mix(part + 0x7f4a7c15) ^ a)
  const c = mix(a + b + 0x632be59b)
  return xoroshiro128plusFromState([a, b, c, mix(b ^ (c + 0x1b873593)) | 1])
}

test('N3: a stream gives the words of xoroshiro128+ as pure-rand has it', () => {
  const reused = new ReusableStream()
  for (let draw = 0; draw < 50; draw++) {
    const key = streamKey(draw * 1e10, `name ${draw}`)
    const words = library(key, draw, draw % 3)
    reused.open(key, draw, draw % 3)
    for (let i = 0; i < 200; i++) expect(reused.coarse()).toBe(((words.next() >>> 0) + 0.5) / 4294967296)
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
