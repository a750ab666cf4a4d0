import { readdirSync, readFileSync } from 'node:fs'
import { join, resolve } from 'node:path'
import { describe, expect, test } from 'vitest'
import { TIERS, tierOf, tiersOf } from '../.config/tiers.ts'

const FILES = readdirSync('tests', { recursive: true, encoding: 'utf8' })
  .map(file => join('tests', file))
  .filter(file => file.endsWith('.test.ts') && file !== join('tests', 'tiers.test.ts'))
const holding = (words: RegExp): string[] => FILES.filter(file => words.test(readFileSync(file, 'utf8')))
const tier = (file: string): string => tierOf(resolve(file))

describe('tiers of the tests', () => {
  test('every place in the lists is a file, and no file is in two', () => {
    for (const start of Object.values(TIERS).flat())
      expect(
        FILES.some(file => file.startsWith(start)),
        start,
      ).toBe(true)
    expect(FILES.filter(file => tiersOf(resolve(file)).length > 1)).toEqual([])
  })

  test.each([
    ['program', ['programs', 'pages'], /(cli|\.)\/run\.ts'|inject\('program'\)/],
    ['browser', ['pages'], /\/chromium\.ts'/],
  ])('what uses the one %s is in %s', (_, tiers, words) => {
    expect(holding(words).filter(file => !tiers.includes(tier(file)))).toEqual([])
  })

  test('rules start no process', () => {
    expect(holding(/\bspawn(Sync)?\(/).filter(file => tier(file) === 'rules')).toEqual([])
  })
})
