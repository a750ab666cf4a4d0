import { describe, expect, test } from 'vitest'
import { InputError } from '../../src/errors.ts'
import { readScenario } from '../../src/scenario/read-scenario.ts'
import { MALFORMED_FAILURE } from './malformed/failure.ts'
import { MALFORMED_KEYS } from './malformed/keys.ts'
import { MALFORMED_RANGES } from './malformed/ranges.ts'
import { MALFORMED_RULES } from './malformed/rules.ts'
import { MALFORMED_VALUES } from './malformed/values.ts'
import { changed } from './plain-scenario.ts'

const CASES = [...MALFORMED_KEYS, ...MALFORMED_VALUES, ...MALFORMED_RANGES, ...MALFORMED_FAILURE, ...MALFORMED_RULES]

describe('a malformed scenario is refused with the whole message', () => {
  test.each(CASES)('$name', ({ from, to, message }) => {
    expect(messageOf(from === '' ? to : changed(from, to))).toBe(message.join('\n'))
  })

  test('more than 50 options: one message, not one an option', () => {
    const options = Array.from({ length: 51 }, (_, index) => `{name: a${index}}`).join(', ')
    expect(messageOf(`site: {}\noptions: [${options}]\n`)).toContain(
      'roof.yaml:2:1  options\n  found a list of 51; allowed: a list of 1 to 50 options',
    )
  })
})

function messageOf(text: string): string {
  try {
    readScenario(text, 'roof.yaml', '.')
  } catch (error) {
    if (error instanceof InputError) return error.message
    throw error
  }
  return 'no problem'
}
