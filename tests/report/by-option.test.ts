import { describe, expect, test } from 'vitest'
import { inGroups, placesOf, valuesByOption } from '../../src/report/estimate/by-option.ts'
import { viewOf } from '../../src/report/estimate/view.ts'
import type { Assumption } from '../../src/scenario/model/assumption.ts'
import { homeResults } from './fixture.ts'

const view = viewOf(homeResults())
const input = (key: string, value: number): Assumption => ({
  key,
  value,
  low: null,
  high: null,
  unit: 'years',
  source: 'ours',
  known: 'judgement',
  weakest: null,
})
const plain = (text: string): string => text.replace(/\u00a0/g, ' ')
const A = 'Plain string inverter / string-inverter'
const B = 'Robust string inverter / string-inverter'
const C = 'Panel-level units / panel-level-unit'

describe('values by option', () => {
  test('one value for all is said once', () => {
    expect(plain(valuesByOption(view, [input(`${A} / x`, 5), input(`${C} / x`, 5)]))).toBe('5 years')
  })
  test('options that agree share a value', () => {
    expect(plain(valuesByOption(view, [input(`${A} / x`, 5), input(`${B} / x`, 12)]))).toBe('A: 5 years; B: 12 years')
  })
  test('where components differ the component is named, and the option where it still differs', () => {
    expect(plain(valuesByOption(view, [input(`${A} / x`, 5), input(`${B} / x`, 12), input(`${C} / x`, 25)]))).toBe(
      'string inverter (A): 5 years; string inverter (B): 12 years; panel-level unit: 25 years',
    )
  })
  test('fifty options are listed in groups that fit a page', () => {
    const one = view.best
    expect(
      inGroups(
        Array.from({ length: 50 }, () => one),
        6,
      ).map(group => group.length),
    ).toEqual([6, 6, 6, 6, 6, 6, 6, 6, 2])
  })
})

describe('places of a value', () => {
  const results = homeResults()
  const inputs = [
    input(`${A} / x`, 5),
    input(`${B} / x`, 5),
    input(`${C} / x`, 7),
    input('Panel-level units / gateway / x', 7),
    input('Panel-level units / gateway / y', 1),
    input('Hybrid / z', 1),
  ]
  const small = viewOf({ ...results, inputs })
  test.each([
    ['a component in every option that has it needs no letter', [0, 1], 'string inverter'],
    ['one of two options is named by its letter', [0], 'string inverter (A)'],
    ['components with one value stand together', [2, 3], 'panel-level unit; gateway'],
    ['all of all components are said in two words', [0, 1, 2, 3], 'every component'],
    ['a component that alone has a key is named', [4], 'gateway'],
    ['a whole option is its letter', [5], 'D'],
  ])('%s', (_, places, words) => {
    expect(
      placesOf(
        small,
        places.flatMap(place => inputs[place] ?? []),
      ),
    ).toBe(words)
  })
  test('what belongs to the site holds for all options', () => {
    expect(placesOf(view, [input('discount_rate', 1)])).toBe('all options')
  })
})
