import { describe, expect, test } from 'vitest'
import type { Results } from '../../src/analysis/results.ts'
import { coordinate, escapeMarkup } from '../../src/report/charts/svg.ts'
import type { Finding } from '../../src/report/content.ts'
import { cover } from '../../src/report/estimate/sections/cover.ts'
import { energyLost } from '../../src/report/estimate/sections/energy-lost.ts'
import { failuresAndVisits, roofsFigure } from '../../src/report/estimate/sections/failures-and-visits.ts'
import { costFigure, lifetimeCost } from '../../src/report/estimate/sections/lifetime-cost.ts'
import { replacementAgeFinding } from '../../src/report/estimate/sections/replacement-age.ts'
import { reserve } from '../../src/report/estimate/sections/reserve.ts'
import { spread } from '../../src/report/estimate/sections/spread.ts'
import { waiting } from '../../src/report/estimate/sections/waiting.ts'
import { warrantyTerm } from '../../src/report/estimate/sections/warranty-term.ts'
import { whatWouldChange } from '../../src/report/estimate/sections/what-would-change.ts'
import { worstBill } from '../../src/report/estimate/sections/worst-bill.ts'
import { worthIt } from '../../src/report/estimate/sections/worth-it.ts'
import { yearByYear } from '../../src/report/estimate/sections/year-by-year.ts'
import { type View, viewOf } from '../../src/report/estimate/view.ts'
import { homeResults, quietResults } from './fixture.ts'

const SECTIONS: Record<string, (view: View) => Finding | null> = {
  // its picture is on the first page, with the answer
  'lifetime-cost': view => ({ ...lifetimeCost(view), figures: [costFigure(view)] }),
  'worth-it': worthIt,
  spread,
  'failures-and-visits': failuresAndVisits,
  'worst-bill': worstBill,
  'energy-lost': energyLost,
  'warranty-term': warrantyTerm,
  cover,
  'what-would-change': whatWouldChange,
  reserve,
  'year-by-year': yearByYear,
  'replacement-age': replacementAgeFinding,
  waiting,
}

/** A curve is drawn where a planned age gains more than chance explains. */
function worthPlanning(option: Results['options'][number]): Results['options'][number] {
  const { replacementAge: policy } = option
  if (policy === null) return option
  const best = policy.best ?? policy.ages[0] ?? 0
  return { ...option, replacementAge: { ...policy, best, gain: 10 * policy.standardError } }
}

describe('charts', () => {
  const home = homeResults()
  const view = viewOf({ ...home, options: home.options.map(worthPlanning) })
  test.each(Object.entries(SECTIONS))('%s is drawn as it was when last looked at', async (name, section) => {
    const svg = section(view)?.figures[0]?.svg ?? ''
    await expect(`${svg.replace(/></g, '>\n<')}\n`).toMatchFileSnapshot(`charts/${name}.svg`)
  })
  test.each(Object.entries(SECTIONS))(
    '%s: every picture has a role, a title, a description, and a table with it',
    (_, section) => {
      const finding = section(view)
      for (const { svg } of finding?.figures ?? []) {
        expect(svg).toMatch(
          /^<svg class="chart" viewBox="0 0 460 [\d.]+" role="img" aria-labelledby="([\w-]+)-t \1-d">/,
        )
        expect(svg).toMatch(/<title id="[\w-]+-t">.{10,}<\/title><desc id="[\w-]+-d">.{10,}<\/desc>/)
      }
      expect(finding?.figures.length).toBeGreaterThan(0)
      expect(finding?.tables.length).toBeGreaterThan(0)
    },
  )
  test('coordinates have one decimal at most', () => {
    for (const section of Object.values(SECTIONS)) {
      for (const { svg } of section(view)?.figures ?? []) {
        const drawn = svg.replace(/<(title|desc|text)[^>]*>[^<]*/g, '').replace(/(title|desc)>/g, '')
        expect(drawn.match(/\d\.\d\d/g)).toBeNull()
      }
    }
  })
  test('nothing to draw still draws: zero failures, one option', () => {
    const quiet = viewOf(quietResults())
    for (const section of Object.values(SECTIONS)) {
      for (const { svg } of section(quiet)?.figures ?? []) expect(svg).not.toMatch(/NaN|Infinity|undefined/)
    }
  })
  test('a hundred roofs are a hundred for every option, and differ by their height', () => {
    const svg = roofsFigure(view).svg
    const roofs = [...svg.matchAll(/<rect [^>]*height="(\d+)" class="(?:roof|dot)"/g)].map(match => match[1])
    expect(roofs).toHaveLength(100 * view.results.options.length)
    expect(new Set(roofs)).toEqual(new Set(['3', '9', '16']))
  })
  test('options differ in letter, line pattern and colour, all three', () => {
    const svg = failuresAndVisits(view).figures[1]?.svg ?? ''
    const lines = [...svg.matchAll(/class="line (c\d)" stroke-dasharray="([^"]+)"/g)]
    expect(new Set(lines.map(line => line[1])).size).toBe(4)
    expect(new Set(lines.map(line => line[2])).size).toBe(4)
    expect([...svg.matchAll(/class="letter">(\w)</g)].map(match => match[1]).sort()).toEqual(['A', 'B', 'C', 'D'])
  })
  test('a coordinate that is not finite is refused, and -0 is 0', () => {
    expect(() => coordinate(Number.NaN)).toThrow(RangeError)
    expect(coordinate(-0.01)).toBe('0')
    expect(escapeMarkup(`<a b="c">&'`)).toBe('&lt;a b=&quot;c&quot;&gt;&amp;&#39;')
  })
})
