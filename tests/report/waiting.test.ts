import { describe, expect, test } from 'vitest'
import { waiting } from '../../src/report/estimate/sections/waiting.ts'
import { viewOf } from '../../src/report/estimate/view.ts'
import { type Block, failsAt, option, play, unit, world } from '../worlds.ts'

/** Twelve units of which one fails each year and a half; energy is worth next to nothing, a visit 300. */
async function sentenceWith(visit_policy: Block | 'each'): Promise<string> {
  const units = Array.from({ length: 4 }, (_, i) =>
    unit('panel-level-unit', { count: 3, failure: failsAt(1.5 * (i + 1)), replacement: { parts: 0.001 } }),
  )
  const blocks = world([option('P', 'panel-level', units, { visit_policy })], {
    horizon_years: 8,
    site: { panels: 12, energy_value: { import_price_per_kwh: 0.01, export_price_per_kwh: 0.01 } },
  })
  const found = waiting(viewOf(await play(blocks, { draws: 40 })))
  return (found?.sentence ?? '').replaceAll('\u00a0', ' ')
}

describe('O3: the waiting finding says what it compares with', () => {
  test('O3: a rule of the scenario that beats every rule tried is kept, and the loss is said as one', async () => {
    const sentence = await sentenceWith({ wait_for_units: 12, wait_at_most_days: 3650 })
    expect(sentence).toMatch(
      /^With P \(A\), keep the rule in your scenario, 12 failed units or 3,650 days: the best of the other rules tried costs about (EUR )?[\d,.]+ more over its life\.$/,
    )
    expect(sentence).not.toMatch(/saves|visit for each/)
  })

  test('O3: a stated rule that loses is named as what the saving is compared with', async () => {
    expect(await sentenceWith({ wait_for_units: 1, wait_at_most_days: 90 })).toMatch(
      /that saves about (EUR )?[\d,.]+ over its life against the rule in your scenario, 1 failed unit or 90 days\.$/,
    )
  })

  test('O3: without a rule the saving is against a visit for each', async () => {
    expect(await sentenceWith('each')).toMatch(/ against a visit for each\.$/)
  })
})
