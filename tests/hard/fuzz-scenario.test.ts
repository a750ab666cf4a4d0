import { readdirSync, readFileSync } from 'node:fs'
import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { parse, stringify } from 'yaml'
import { PLAIN } from '../scenario/plain-scenario.ts'
import { FuzzRun, LONG } from './fuzz-run.ts'
import { anyEdit, anySlip, edited, type Tree } from './mutate.ts'
import { playCase } from './play-case.ts'
import { QUOTES } from './quotes.ts'

const fuzz = new FuzzRun('scenarios')
/** One case in so many is played as well as read, and the report is written for one in four of these. */
const PLAYED = 2

const examples = readdirSync('examples').filter(name => name.endsWith('.yaml'))
// Small ones most of the time: they are played in milliseconds, and a fault shows in them as well.
const small = [PLAIN, ...QUOTES]
const large = examples.map(name => readFileSync(`examples/${name}`, 'utf8'))
const texts = [...Array.from({ length: 8 }, () => small).flat(), ...large]
const trees = texts.map(text => parse(text) as Tree)

const run = (text: string, told: readonly string[], index: number) =>
  fuzz.try(text, told.join(' | '), () =>
    playCase(text, index % PLAYED > 0 ? 'read' : index % (4 * PLAYED) > 0 ? 'play' : 'report'),
  )

describe('no file breaks the program: a message with its place, or finite figures (N4)', () => {
  test('scenarios with one to three values changed', LONG, async () => {
    let index = 0
    const cases = fuzz.settings(50)
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
      cases,
    )
    const { played = 0, reported = 0 } = fuzz.ended
    expect(played + reported).toBeGreaterThan(cases.numRuns / PLAYED / 10)
  })

  test('texts with one to three typing errors', LONG, async () => {
    let index = 0
    const cases = fuzz.settings(50)
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
      cases,
    )
    expect(fuzz.ended.refused).toBeGreaterThan(cases.numRuns / 20)
  })
})
