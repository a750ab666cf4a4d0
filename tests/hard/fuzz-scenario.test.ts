import { appendFileSync, readdirSync, readFileSync, writeFileSync } from 'node:fs'
import fc from 'fast-check'
import { afterAll, describe, expect, test } from 'vitest'
import { parse, stringify } from 'yaml'
import { PLAIN } from '../scenario/plain-scenario.ts'
import { anyEdit, anySlip, edited, type Tree } from './mutate.ts'
import { type Ending, isMeant, playCase } from './play-case.ts'
import { QUOTES } from './quotes.ts'

/** Cases of each kind; many for the long run that DEVELOPERS.md tells of. */
const CASES = Number(process.env.LIFETALLY_FUZZ_CASES ?? 50)
const SEED = Number(process.env.LIFETALLY_FUZZ_SEED ?? 20_270_301)
/** One case in so many is played as well as read, and one in four of these written up. */
const PLAYED = Number(process.env.LIFETALLY_FUZZ_PLAYED ?? 2)
/** The long run writes here what breaks, and goes on; the short one stops at the first. */
const LOG = process.env.LIFETALLY_FUZZ_LOG

const examples = readdirSync('examples').filter(name => name.endsWith('.yaml'))
// Small ones most of the time: they are played in milliseconds, and a fault shows in them as well.
const small = [PLAIN, ...QUOTES]
const large = examples.map(name => readFileSync(`examples/${name}`, 'utf8'))
const texts = [...Array.from({ length: 8 }, () => small).flat(), ...large]
const trees = texts.map(text => parse(text) as Tree)
const ended: Record<Ending | 'meant', number> = { refused: 0, read: 0, large: 0, played: 0, reported: 0, meant: 0 }
let slowest = 0

afterAll(() => {
  const { rss } = process.resourceUsage ? { rss: process.resourceUsage().maxRSS / 1024 } : { rss: 0 }
  if (LOG !== undefined)
    appendFileSync(
      LOG,
      `${JSON.stringify({ seed: SEED, ended, slowestMs: Math.round(slowest), peakMb: Math.round(rss) })}\n`,
    )
})

async function run(text: string, told: readonly string[], index: number): Promise<void> {
  if (LOG !== undefined) writeFileSync(`${LOG}.current`, text)
  const start = process.cpuUsage()
  try {
    ended[await playCase(text, index % PLAYED > 0 ? 'read' : index % (4 * PLAYED) > 0 ? 'play' : 'report')] += 1
  } catch (error) {
    if (!isMeant(error)) {
      if (LOG === undefined) throw error
      appendFileSync(
        LOG,
        `${told.join(' | ')}\n${error instanceof Error ? error.stack?.slice(0, 700) : error}\n${text.slice(0, 6000)}\n=====\n`,
      )
    }
    ended.meant += 1
  }
  // Time of the processor: other work on the machine is no fault of the case.
  const took = process.cpuUsage(start).user / 1000
  slowest = Math.max(slowest, took)
  if (took > 5000) {
    if (LOG === undefined) throw new Error(`a case took ${took} ms: ${told.join(' | ')}`)
    appendFileSync(LOG, `SLOW ${took} ms: ${told.join(' | ')}\n${text.slice(0, 6000)}\n=====\n`)
  }
}

describe('no file breaks the program: a message with its place, or finite figures (N4)', () => {
  test('scenarios with one to three values changed', { timeout: 36_000_000 }, async () => {
    let index = 0
    await fc.assert(
      fc.asyncProperty(
        fc.constantFrom(...trees),
        fc.array(anyEdit, { minLength: 1, maxLength: 3 }),
        async (tree, edits) => {
          const text = JSON.stringify(edits.reduce(edited, tree))
          await run(
            text,
            edits.map(edit => edit.told),
            index++,
          )
        },
      ),
      { seed: SEED, numRuns: CASES, endOnFailure: true },
    )
    expect(ended.played + ended.reported).toBeGreaterThan(CASES / PLAYED / 10)
  })

  test('texts with one to three slips of the hand', { timeout: 36_000_000 }, async () => {
    let index = 0
    await fc.assert(
      fc.asyncProperty(
        fc.constantFrom(...texts, ...trees.map(tree => stringify(tree))),
        fc.array(anySlip, { minLength: 1, maxLength: 3 }),
        async (text, slips) => {
          await run(
            slips.reduce((before, slip) => slip(before), text),
            ['slips'],
            index++,
          )
        },
      ),
      { seed: SEED, numRuns: CASES, endOnFailure: true },
    )
    expect(ended.refused).toBeGreaterThan(CASES / 20)
  })
})
