import type { KeyPath } from '../../input/problems.ts'
import { ELSEWHERE, type Elsewhere, type Level } from './elsewhere-words.ts'
import { inline } from './inline.ts'
import { isTable, type Rewrite } from './rewrite.ts'
import { yearsWord } from './years-word.ts'

/**
 * Answers keys at the wrong level and words from elsewhere with the right place and a line that works. The value is then
 * moved to its place, so that one mistake is reported once and the rest can still be checked.
 *
 * @param rewrite - the scenario on its way
 * @param level - what the block is
 * @param path - where the block is
 * @param only - the keys meant that are answered now; left out: all
 */
export function answerElsewhere(rewrite: Rewrite, level: Level, path: KeyPath, only?: readonly string[]): void {
  const block = rewrite.table(path)
  if (block === null) return
  for (const key of Object.keys(block)) {
    const word = key
      .toLowerCase()
      .replace(/[\s-]+/g, '_')
      .replace('labor', 'labour')
      .replace('optimizer', 'optimiser')
    const meant = ELSEWHERE[level].find(({ words }) => words.split(' ').includes(word))
    if (meant !== undefined && (only?.includes(meant.to) ?? true)) answer(rewrite, path, key, word, meant)
  }
}

function answer(rewrite: Rewrite, path: KeyPath, key: string, word: string, meant: Elsewhere): void {
  const from = [...path, key]
  const to = meant.to.replace('*', word).split('.')
  const written = rewrite.at(from)
  const value = withoutUnit(meant.as === undefined ? written : meant.as(written))
  const home = homeOf(meant.under, path)
  const target = [...home, ...to]
  rewrite.drop(from)
  const known = rewrite.at(target)
  if (known !== undefined && known !== null) {
    const message = `unknown key "${key}" here; ${target.join('.')} says it already: leave this one out`
    rewrite.flaws.push({ path: from, message })
    return
  }
  makeBlocks(rewrite, target)
  if (isTable(rewrite.at(target.slice(0, -1)))) rewrite.put(target, value, from)
  const { where, line } = lineOf(rewrite, meant.under, home, to, value)
  rewrite.flaws.push({ path: from, message: `unknown key "${key}" here; ${where}write  ${line}` })
}

/** Where a key belongs: a block above, the first component of an option, or the block itself. */
function homeOf(under: Elsewhere['under'], path: KeyPath): KeyPath {
  if (under === 'root') return []
  if (under === 'site') return ['site']
  if (under === 'option') return path.slice(0, 2)
  return under === 'component' ? [...path, 'components', 0] : path
}

function makeBlocks(rewrite: Rewrite, target: KeyPath): void {
  for (let length = 1; length < target.length; length++) {
    const above = target.slice(0, length)
    const years = above.at(-1) === 'warranty' ? yearsWord(rewrite.at(above)) : null
    if (years !== null) rewrite.put(above, { years }, above)
    const missing = rewrite.at(above) === undefined || rewrite.at(above) === null
    if (missing && isTable(rewrite.at(above.slice(0, -1)))) rewrite.put(above, {}, above)
  }
}

const WHERE = { root: 'at the left edge ', site: 'under "site" ', option: 'in the option ' } as const

/** A number that is written with its unit, by itself; anything else as it is. */
function withoutUnit(value: unknown): unknown {
  const number = typeof value === 'string' ? /^\s*(\d+(?:\.\d+)?)\s*[a-z°€$£]+\s*$/i.exec(value)?.[1] : undefined
  return number === undefined ? value : Number(number)
}

/** The line to type and, where it belongs elsewhere, the block to type it in. */
function lineOf(rewrite: Rewrite, under: Elsewhere['under'], home: KeyPath, to: readonly string[], value: unknown) {
  if (under === 'component') {
    const components = rewrite.list(home.slice(0, -1)).filter(isTable)
    return { where: '', line: `components: ${inline(components)}` }
  }
  const where = under === undefined ? '' : WHERE[under]
  const [first = '', ...rest] = to
  const inside = rest.reduceRight<unknown>((inner, key) => ({ [key]: inner }), value)
  // Merged with the keys of the block.
  const merged = rest.length === 0 ? undefined : rewrite.table([...home, first])
  return { where, line: `${first}: ${inline(merged === null || merged === undefined ? inside : merged)}` }
}
