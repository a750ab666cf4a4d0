import { describe, expect, test } from 'vitest'
import type { Audience } from '../../src/report/estimate/parts.ts'
import { renderReport } from '../../src/report/estimate/render-estimate.ts'
import { type Block, failsAt, option, play, single, unit, world } from '../worlds.ts'

const worn = (over: Block = {}) => single({ failure: failsAt(2.3), ...over }, {}, 'Worn')
const many = option('Many', 'panel-level', [unit('panel-level-unit', { count: 10, failure: failsAt(2.3) })])

async function reportOf(
  options: readonly Block[],
  horizon_years: number,
  audience: Audience = 'buyer',
): Promise<string> {
  const results = await play(world(options, { horizon_years }), { draws: 40 })
  return renderReport(results, { audience, command: 'lifetally estimate world.yaml' }).replaceAll('\u00a0', ' ')
}

/** Where a pattern is found, with some text before and after it; null: nowhere. */
function around(text: string, pattern: RegExp): string | null {
  const at = text.search(pattern)
  return at < 0 ? null : text.slice(Math.max(0, at - 80), at + 80)
}

describe('reports at the edges of what is allowed', () => {
  test.each([1, 2, 3, 4])(
    'M6: a horizon of %d years leaves no age to try, and the report says so; it used to crash',
    async years => {
      const html = await reportOf([worn(), many], years, 'owner')
      expect(html).toContain('Whether to replace on schedule or run to failure is left open for Worn (A)')
      expect(html).not.toContain('id="replacement-age"')
    },
  )

  test('M6: one option with an age to try, one without', async () => {
    const html = await reportOf(
      [worn({ age_years: 20 }), single({ age_years: 1, failure: failsAt(5) }, {}, 'New')],
      3,
      'owner',
    )
    expect(html).toContain('id="replacement-age"')
    expect(html).toContain('is left open for New (B): in 3 years')
  })

  test('a horizon of one year is one year, and no sentence mentions ten', async () => {
    const html = await reportOf([worn({ failure: failsAt(0.5) }), many], 1)
    expect(html).toContain('1 year')
    expect(around(html, /\b1 years/)).toBeNull()
    expect(around(html, /ten years|(?<!of )10 years|years 10/)).toBeNull()
  })

  test('cover is given for the first ten years, or for a shorter horizon', async () => {
    expect(await reportOf([worn()], 12)).toContain('In the first 10 years the warranty of')
    expect(await reportOf([worn()], 10)).toContain('In 10 years the warranty of')
  })
})
