import { describe, expect, test } from 'vitest'
import type { Option, Scenario, Site } from '../../src/scenario/model.ts'
import { fitNotes } from '../../src/scenario/notes/fit-notes.ts'
import type { RoofArray } from '../../src/scenario/roof.ts'
import { array, optimisedOption, option, panelOption, population, roofOf, site, stringOption } from '../energy/roofs.ts'

function scenario(
  arrays: readonly RoofArray[],
  options: readonly Option[],
  network: Partial<Site['network']> = {},
): Scenario {
  const roof = roofOf(arrays)
  const plain = site(roof)
  return {
    title: 't',
    currency: 'EUR',
    horizonYears: 25,
    startMonth: 1,
    start: null,
    discountRate: 0.03,
    residualValue: 'none',
    reserve: { interest: 0, opening: 0, confidence: 0.9, inflation: null },
    tierEffect: null,
    site: { ...plain, network: { ...plain.network, ...network } },
    visit: { callOut: 0, roofAccess: 0, labourGrowth: 0 },
    options,
    models: [],
    unknowns: [],
    assumptions: [],
    notes: [],
    taken: [],
  }
}

function codes(arrays: readonly RoofArray[], design: Option, network: Partial<Site['network']> = {}): string[] {
  return fitNotes(scenario(arrays, [design], network)).map(note => note.code)
}

const shaded = { word: 'light', windows: [], horizon: [] } as const

describe('E8 fit-for-this-roof notes', () => {
  test('common practice, no source: 6.6 kW on 5 kW and 13.2 on 10 pass a limit of 133 %, 6.8 on 5 does not', () => {
    const panels = (n: number, panelW: number) => [array({ panels: n, panelW })]
    expect(codes(panels(20, 330), stringOption(5))).not.toContain('dc-ac-ratio')
    expect(codes(panels(40, 330), stringOption(10))).not.toContain('dc-ac-ratio')
    expect(codes(panels(20, 340), stringOption(5))).toContain('dc-ac-ratio')
    // the limit is an input
    expect(codes(panels(20, 340), stringOption(5), { maxDcAcRatio: 1.5 })).not.toContain('dc-ac-ratio')
  })

  test('common practice, no source: 5 kW a phase without export limiting', () => {
    const limit = { acLimitKwPerPhase: 5 }
    expect(codes([array()], stringOption(5), limit)).not.toContain('over-ac-limit')
    expect(codes([array()], stringOption(6), limit)).toContain('over-ac-limit')
    expect(codes([array()], stringOption(6), { ...limit, exportLimitKw: 5 })).not.toContain('over-ac-limit')
    expect(codes([array()], stringOption(12), { ...limit, phases: 3 })).not.toContain('over-ac-limit')
    expect(codes([array()], panelOption(20, 0.3), limit)).toContain('over-ac-limit')
  })

  test('more aspects than inputs concern strings only', () => {
    const three = [0, 1, 2].map(i => array({ name: `a${i}`, azimuthDegrees: 90 + 90 * i, input: i + 1 }))
    expect(codes(three, stringOption(12))).toContain('more-aspects-than-inputs')
    expect(codes(three, stringOption(12, { inputs: 3 }))).not.toContain('more-aspects-than-inputs')
    expect(codes(three, panelOption(36, 0.35))).not.toContain('more-aspects-than-inputs')
    expect(codes(three, optimisedOption(12, 36))).not.toContain('more-aspects-than-inputs')
  })

  test('shade on a plain string is named, and so is no shade', () => {
    expect(codes([array({ shade: shaded })], stringOption(5))).toContain('shade-on-plain-string')
    expect(codes([array({ shade: shaded })], panelOption(12, 0.35))).not.toContain('shade-on-plain-string')
    expect(codes([array({ shade: shaded })], stringOption(5))).not.toContain('shade-not-given')
    expect(codes([array()], stringOption(5))).toContain('shade-not-given')
  })

  test('a unit smaller than its panel by more than the ratio', () => {
    expect(codes([array({ panelW: 400 })], panelOption(12, 0.29))).toContain('unit-smaller-than-panel')
    expect(codes([array({ panelW: 400 })], panelOption(12, 0.31))).not.toContain('unit-smaller-than-panel')
    // a unit for two panels
    expect(codes([array({ panelW: 400 })], panelOption(6, 0.62))).not.toContain('unit-smaller-than-panel')
  })

  test('switchboard work in one quote of two is named by the quote', () => {
    const with_ = option('string', [population('string-inverter', { acKw: 5 })], {
      includes: ['switchboard'],
      name: 'First',
    })
    const without = { ...stringOption(5), id: 'B', name: 'Second' }
    const [note] = fitNotes(scenario([array()], [with_, without])).filter(({ code }) => code === 'only-one-includes')
    expect(note).toEqual({
      code: 'only-one-includes',
      option: 'A',
      text: 'Only First lists switchboard work in its price. Check that the other quotes cover the same.',
    })
    expect(fitNotes(scenario([array()], [with_, { ...with_, id: 'B' }])).map(n => n.code)).not.toContain(
      'only-one-includes',
    )
  })
})
