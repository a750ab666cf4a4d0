import { expect, test } from 'vitest'
import { nearest, Problems, type SourceValue, show } from '../../src/input/problems.ts'
import { parseYaml } from '../../src/input/yaml.ts'

const source: SourceValue = parseYaml('b: 1\na: 2\n', 'f.yaml')

test('problems are reported in order of line, each once', () => {
  const problems = new Problems(source)
  problems.add(['a'], 'second')
  problems.add(['b'], 'first')
  problems.add(['a'], 'second')
  expect(problems.inOrder().map(problem => problem.message)).toEqual(['first', 'second'])
  expect(() => problems.throwIfAny()).toThrow('f.yaml:1:1  b\n  first\nf.yaml:2:1  a\n  second')
})

test('a rule can skip a place where something is wrong above or below', () => {
  const problems = new Problems(source)
  problems.add(['a', 'x'], 'wrong')
  expect(problems.touches(['a'])).toBe(true)
  expect(problems.touches(['a', 'x', 'y'])).toBe(true)
  expect(problems.touches(['a', 'xy'])).toBe(false)
})

test('a key is suggested only when it is close', () => {
  expect(nearest('waranty', ['warranty', 'visit'])).toBe('warranty')
  expect(nearest('Count', ['count'])).toBe('count')
  expect(nearest('zebra', ['title', 'site'])).toBe(null)
  expect(nearest('ab', ['cd'])).toBe(null)
})

test('a value is shown short', () => {
  expect(show('x'.repeat(60))).toBe(`"${'x'.repeat(50)}…"`)
  expect(show(null)).toBe('nothing')
  expect(show([1])).toBe('a list of 1')
})
