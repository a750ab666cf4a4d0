import { describe, expect, test } from 'vitest'
import { InputError } from '../../src/errors.ts'
import { MAX_YAML_CHARACTERS, parseYaml } from '../../src/input/yaml.ts'

describe('values know their place', () => {
  test('keys and list entries have line and column, missing keys that of their block', () => {
    const source = parseYaml('a: 1\nb:\n  - x\n  - {c: 2}\n', 'f.yaml')
    expect(source.value).toEqual({ a: 1, b: ['x', { c: 2 }] })
    expect(source.placeOf(['b', 1, 'c'])).toEqual({ line: 4, column: 6 })
    expect(source.placeOf(['b', 1, 'missing'])).toEqual({ line: 4, column: 5 })
    expect(source.placeOf(['b'])).toEqual({ line: 2, column: 1 })
  })

  test('JSON with tabs is read too', () => {
    expect(parseYaml('{\n\t"a": [1, 2],\n\t"b": {"10": "12%"}\n}\n', 'f.json').value).toEqual({
      a: [1, 2],
      b: { 10: '12%' },
    })
  })

  test('a month stays text, a number key becomes text', () => {
    expect(parseYaml('start: 2027-03\nby: {10: 5%}\n', 'f.yaml').value).toEqual({ start: '2027-03', by: { 10: '5%' } })
  })

  test('an alias gives the same value again', () => {
    expect(parseYaml('a: &x {k: 1}\nb: *x\n', 'f.yaml').value).toEqual({ a: { k: 1 }, b: { k: 1 } })
  })
})

describe('what is refused, with the whole message', () => {
  const bomb = ['a: &a [x, x, x, x, x, x, x, x, x, x]']
  for (const [at, name] of [...'bcdefgh'].entries()) {
    const before = 'abcdefgh'[at]
    bomb.push(`${name}: &${name} [${Array.from({ length: 10 }, () => `*${before}`).join(', ')}]`)
  }

  test.each([
    ['', 'f.yaml\n  the file is empty'],
    ['# only a comment\n', 'f.yaml\n  the file is empty'],
    [
      'a: 1\na: 2\n',
      'f.yaml:2:1\n  the key "a" occurs twice in the same block; keep one, or begin a new list entry with "- "',
    ],
    [
      'a: {10: x, "10": y}\n',
      'f.yaml:1:12  a\n  the key "10" occurs twice in the same block; keep one, or begin a new list entry with "- "',
    ],
    [
      'a: 1\n---\nb: 2\n',
      'f.yaml:2:1\n  the file has several documents; keep one and drop the line "---" before the next',
    ],
    ['a: !shell x\n', 'f.yaml:1:4\n  tags (words that begin with "!") are not read here; write the plain value'],
    ['__proto__: {polluted: true}\n', 'f.yaml:1:1\n  the key "__proto__" is not allowed anywhere'],
    ['a: *nobody\n', 'f.yaml:1:4  a\n  nothing is named "nobody" before this line'],
    ['a: &a {b: *a}\n', 'f.yaml:1:11  a.b\n  "a" contains itself'],
    ['{[1, 2]: x}\n', 'f.yaml:1:2\n  a key must be a word or a number'],
    [
      'a:\n  b:1\n  c: 2\n',
      'f.yaml:2:3\n  a key needs a colon and a space after it, as in "panels: 20"; or the lines do not begin in the same column',
    ],
    [
      'a: b: c\n',
      'f.yaml:1:4\n  there are two colons in a line, or the lines do not begin in the same column; put text with a colon in quotes',
    ],
    ['a:\n    b: 1\n   c: 2\n', 'f.yaml:3:1\n  this line does not begin in the same column as its neighbours'],
    ['a:\n  - b: {c: 1\n    d: 2\n', 'f.yaml:3:5\n  a bracket opened before this line is not closed'],
    ['%PDF-1.4 x', 'f.yaml:1:11\n  this is no YAML or JSON text; name the scenario file'],
    ['a:\n\tb: 1\n', 'f.yaml:2:1\n  a tab is used to indent; use spaces'],
  ])('%j', (text, message) => {
    expect(messageOf(text)).toBe(message)
  })

  test('an alias bomb is stopped by the number of values', () => {
    expect(messageOf(`${bomb.join('\n')}\n`)).toMatch(
      /^f\.yaml:\d+:\d+ {2}[a-h](\.\d+)+\n {2}the file grows to more than 200000 values; write repeated parts out less often$/,
    )
  })

  test('nesting is limited, however deep', () => {
    expect(messageOf('['.repeat(60) + ']'.repeat(60))).toContain('values are nested more than 40 levels deep')
    expect(messageOf('['.repeat(100_000))).toContain('levels deep')
    expect(messageOf('- '.repeat(100_000))).toContain('levels deep')
    expect(messageOf('["]",'.repeat(50_000))).toContain('levels deep')
    expect(messageOf(Array.from({ length: 60 }, (_, at) => `${' '.repeat(at)}a:\n`).join(''))).toContain('levels deep')
  })

  test('size is limited', () => {
    expect(messageOf(`a: ${'x'.repeat(MAX_YAML_CHARACTERS)}`)).toBe(
      'f.yaml\n  the file has 500003 characters; the limit is 500000',
    )
  })

  test('no value reaches the prototype of objects', () => {
    messageOf('__proto__: {polluted: true}\n')
    expect('polluted' in {}).toBe(false)
  })
})

function messageOf(text: string): string {
  try {
    parseYaml(text, 'f.yaml')
  } catch (error) {
    if (error instanceof InputError) return error.message
    throw error
  }
  return 'no problem'
}
