import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, describe, expect, test } from 'vitest'
import type { z } from 'zod'
import { InputError } from '../../src/errors.ts'
import { readScenario } from '../../src/scenario/read-scenario.ts'
import { arrayBlock } from '../../src/scenario/schema/arrays.ts'
import { componentBlock, warrantyBlock } from '../../src/scenario/schema/component.ts'
import { generationBlock } from '../../src/scenario/schema/generation.ts'
import { loadBlock } from '../../src/scenario/schema/load.ts'
import { locationBlock } from '../../src/scenario/schema/location.ts'
import { optionBlock } from '../../src/scenario/schema/option.ts'
import { scenarioBlock, visitBlock } from '../../src/scenario/schema/scenario.ts'
import { energyValueBlock, networkBlock, siteBlock } from '../../src/scenario/schema/site.ts'
import { ELSEWHERE } from '../../src/scenario/short-form/elsewhere-words.ts'
import { ANSWERS } from './answers/answers.ts'
import { type Answered, keyOf, lineToWrite, scenarioWith } from './answers/place-lines.ts'

const folder = mkdtempSync(join(tmpdir(), 'lifetally-answers-'))
afterAll(() => rmSync(folder, { recursive: true, force: true }))
writeFileSync(join(folder, 'use.csv'), `kwh\n${'0.5\n'.repeat(8760)}`)

/** The problems of a scenario, place and message separate; none where it is right. */
function said(text: string): readonly (readonly [place: string, message: string])[] {
  try {
    readScenario(text, 'quote.yaml', folder)
    return []
  } catch (error) {
    if (!(error instanceof InputError)) throw error
    return error.problems.map(({ line, message }) => [text.split('\n')[(line ?? 0) - 1]?.trim() ?? '', message])
  }
}

/** The scenario with the line that the message says to write in place of the one that was wrong. */
function mended(answered: Answered): string {
  const { at, line, with: others = [], mended: whole } = answered
  const right = lineToWrite(answered)
  const put = right === null ? [] : [whole === undefined ? right : { at, line: whole }]
  const goes = put.map(one => keyOf(one.line))
  const kept = [...others.filter(one => !goes.includes(keyOf(one.line))), ...put]
  // Optimisers stay; only their topology was wrong.
  const stays = line.startsWith('optimisers') ? [{ at, line }] : []
  const home = at === 'array' || at === 'component' ? [{ at, line: at === 'array' ? 'input: 1' : 'phases: 1' }] : []
  return scenarioWith([...home, ...kept, ...stays])
}

describe('a key at the wrong level, a word from elsewhere, a wrong form is answered with a line that works', () => {
  test('of at least sixty', () => {
    expect(ANSWERS.length).toBeGreaterThan(60)
    expect(said(scenarioWith([]))).toEqual([])
  })

  test.each(ANSWERS.map(answered => [`${answered.at}: ${answered.line}`, answered] as const))('%s', (_, answered) => {
    const { at, line, without, with: others = [], message } = answered
    const wrong = scenarioWith([...others, { at, line }], without)
    expect(said(wrong).map(([, words]) => words)).toEqual([message])
    expect(said(wrong)[0]?.[0]).toContain(line.split(':', 1)[0])
    expect(said(mended(answered))).toEqual([])
  })
})

test('no word that is answered is a key of its own level', () => {
  const blocks: Record<keyof typeof ELSEWHERE, z.ZodObject> = {
    root: scenarioBlock,
    site: siteBlock,
    generation: generationBlock,
    energy_value: energyValueBlock,
    location: locationBlock,
    load: loadBlock,
    network: networkBlock,
    array: arrayBlock,
    visit: visitBlock,
    option: optionBlock,
    component: componentBlock,
    warranty: warrantyBlock,
  }
  for (const [level, block] of Object.entries(blocks))
    for (const { words } of ELSEWHERE[level as keyof typeof ELSEWHERE])
      for (const word of words.split(' ')) expect(Object.keys(block.shape), `${level} ${word}`).not.toContain(word)
})
