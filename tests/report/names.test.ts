import { describe, expect, test } from 'vitest'
import { componentWords, joinList, joinWords, plainInput, plainName } from '../../src/report/names.ts'

describe('names', () => {
  test('direction marks are taken out and right-to-left names are isolated', () => {
    expect(plainName('Plain\u202e inverter\u2069')).toBe('Plain inverter')
    expect(plainName('\u05de\u05de\u05d9\u05e8')).toBe('\u2068\u05de\u05de\u05d9\u05e8\u2069')
    expect(plainName('Sun \u2600\ufe0f box')).toBe('Sun \u2600\ufe0f box')
  })
  test('control characters cannot break a line, and no name is empty', () => {
    expect(plainName('a\n\tb')).toBe('a b')
    expect(plainName('\u200f \u0007')).toBe('unnamed')
  })
  test('kinds and lists are written as a person would say them', () => {
    expect(componentWords('panel-level-unit')).toBe('panel-level unit')
    expect(componentWords('string-inverter 2')).toBe('string inverter 2')
    expect(componentWords('battery-inverter')).toBe('battery inverter')
    expect(joinWords(['a', 'b', 'c'])).toBe('a, b and c')
    expect(joinWords([])).toBe('')
    expect(plainInput('growth of parts prices (Plain, string-inverter)')).toBe(
      'growth of parts prices (Plain, string inverter)',
    )
    expect(joinList(['a, 3', 'b, 4'])).toBe('a, 3; and b, 4')
  })
})
