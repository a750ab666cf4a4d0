import { readdirSync, readFileSync } from 'node:fs'
import { join, matchesGlob } from 'node:path'
import { describe, expect, test } from 'vitest'
import { TIERS, tierOf } from '../.config/tiers.ts'

const FILES = readdirSync('tests', { recursive: true, encoding: 'utf8' })
  .map(file => join('tests', file))
  .filter(file => file.endsWith('.test.ts') && file !== join('tests', 'tiers.test.ts'))
const tiersOf = (file: string): string[] =>
  Object.entries(TIERS).flatMap(([tier, globs]) => (globs.some(glob => matchesGlob(file, glob)) ? [tier] : []))
const holding = (words: RegExp): string[] => FILES.filter(file => words.test(readFileSync(file, 'utf8')))

describe('tiers of the tests', () => {
  test('every place in the lists is a file, and no file is in two', () => {
    for (const glob of Object.values(TIERS).flat())
      expect(
        FILES.some(file => matchesGlob(file, glob)),
        glob,
      ).toBe(true)
    expect(FILES.filter(file => tiersOf(file).length > 1)).toEqual([])
  })

  test.each([
    ['program', ['programs', 'pages'], /(cli|\.)\/run\.ts'|inject\('program'\)/],
    ['browser', ['pages'], /\/chromium\.ts'/],
  ])('what uses the one %s is in %s', (_, tiers, words) => {
    expect(holding(words).filter(file => !tiers.includes(tierOf(file)))).toEqual([])
  })

  test('rules start no process', () => {
    expect(holding(/\bspawn(Sync)?\(/).filter(file => tiersOf(file).length === 0)).toEqual([])
  })
})
