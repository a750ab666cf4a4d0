import { readdirSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, test } from 'vitest'
import { keyPhrase } from '../../src/report/key-words.ts'
import { readScenario } from '../../src/scenario/read-scenario.ts'

const EXAMPLES = join(import.meta.dirname, '../../examples')
const files = readdirSync(EXAMPLES).filter(name => name.endsWith('.yaml'))

describe('the report has words for every assumption', () => {
  test('there are examples', () => expect(files.length).toBeGreaterThan(5))

  test.each(files)('%s: every key has a phrase', file => {
    const path = join(EXAMPLES, file)
    const { assumptions } = readScenario(readFileSync(path, 'utf8'), path, EXAMPLES)
    expect(assumptions.map(({ key }) => key).filter(key => keyPhrase(key) === null)).toEqual([])
  })

  test('a key without a phrase is seen', () => {
    expect(keyPhrase('Option / no.such_key')).toBeNull()
  })
})
