import { describe, expect, test } from 'vitest'
import type { Results } from '../../src/analysis/results.ts'
import { renderReport } from '../../src/report/estimate/render-estimate.ts'
import { homeResults } from './fixture.ts'

/** What shapes the report and is no finding: how long, how many, which. */
const KEPT =
  /\.(seed|draws|blocks|parameterSets|horizonYears|count|years|labourYears|ages|best|waitForUnits|waitAtMostDays|aheadFromYear|confidence|firstShortYear)\b/
const SHARES = /share|chance|availability|atLeastOne|cover|discountRate|percent/i

/**
 * The same results with every other figure moved: shares down, so that they stay shares, energy and all else up by
 * factors of their own, so that what is worked out of both moves too.
 */
function moved(results: Results): Results {
  const move = (value: unknown, path: string): unknown => {
    if (typeof value === 'number')
      return KEPT.test(path) ? value : value * (SHARES.test(path) ? 0.31 : /kwh|energy\./i.test(path) ? 5.3 : 3.7)
    if (Array.isArray(value)) return value.map((item, index) => move(item, `${path}.${index}`))
    if (typeof value !== 'object' || value === null) return value
    return Object.fromEntries(Object.entries(value).map(([key, item]) => [key, move(item, `${path}.${key}`)]))
  }
  return move(results, '') as Results // the same shape, number for number
}

const render = (results: Results): string =>
  renderReport(results, { audience: 'buyer', command: 'lifetally estimate roof.yaml' }).replace(/\u00a0/g, ' ')

/** Every cell of every table, with its table and column; the assumptions have a list of their own. */
function cells(html: string): { where: string; text: string }[] {
  const tables = html.split('id="assumptions"')[0]?.match(/<table>[\s\S]*?<\/table>/g) ?? []
  return [...tables, html.slice(html.indexOf('id="self-check"'))].flatMap(table => {
    const caption = /<caption><span>(.*?)<\/span>/.exec(table)?.[1] ?? ''
    const head = [...table.matchAll(/<th scope="col"[^>]*>(.*?)<\/th>/g)].map(match => match[1] ?? '')
    return [...table.matchAll(/<tr><th scope="row">(.*?)<\/th>([\s\S]*?)<\/tr>/g)].flatMap(row =>
      [...(row[2] ?? '').matchAll(/<td[^>]*>(.*?)<\/td>/g)].map((cell, column) => ({
        where: `${caption} / ${head[column + 1]} / ${row[1]}`,
        text: cell[1] ?? '',
      })),
    )
  })
}

/** Amounts of money in sentences and in descriptions of charts, in order. */
function amounts(html: string): string[] {
  const prose = html.split('id="assumptions"')[0]?.replace(/<table>[\s\S]*?<\/table>/g, '') ?? ''
  return prose.match(/EUR \u2212?\d[\d,.]*\d|EUR \d/g) ?? []
}

describe('every figure of the report is from results.json', () => {
  // notes are sentences of the run, with figures of their own
  const before: Results = { ...homeResults(), notes: [] }
  const htmlBefore = render(before)
  const htmlAfter = render(moved(before))

  test('tables: when results move, no cell stays but zeros and what is counted of the quotes', () => {
    const after = cells(htmlAfter)
    const stayed = cells(htmlBefore)
      .map((cell, index) => ({ ...cell, after: after[index]?.text }))
      .filter(({ text, after: then }) => /[1-9]/.test(text) && text !== 'under 1 %' && text === then)
      .filter(({ where }) => !/ \/ (Units|Labour years|Parts years) \/ /.test(where))
      .map(({ where, text }) => `${where}: ${text}`)
    expect(after.length).toBeGreaterThan(300)
    expect(stayed).toEqual([])
  })
  test('sentences: every amount of money moves with the results', () => {
    const first = amounts(htmlBefore)
    const then = amounts(htmlAfter)
    expect(first.length).toBeGreaterThan(80)
    expect(then.length).toBe(first.length)
    expect(first.filter((amount, index) => /[1-9]/.test(amount) && amount === then[index])).toEqual([])
  })
})
