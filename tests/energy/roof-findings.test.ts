import { describe, expect, test } from 'vitest'
import { calendarOf } from '../../src/energy/calendar.ts'
import { energyOfOptions } from '../../src/energy/options-energy.ts'
import { roofFindings } from '../../src/energy/roof-findings.ts'
import type { Scenario } from '../../src/scenario/model.ts'
import { loadScenario } from '../../src/scenario/read-scenario.ts'

const sum = (values: readonly number[]): number => values.reduce((total, value) => total + value, 0)

async function example(name: string): Promise<Scenario> {
  return loadScenario(`examples/${name}.yaml`)
}

describe('what the report shows of a roof', () => {
  test('the months of a finding are those of the energy of year 0', async () => {
    const scenario = await example('shaded-three-faces')
    const energies = energyOfOptions(scenario, calendarOf(1, 2))
    roofFindings(scenario)?.options.forEach((found, index) => {
      const energy = energies[index]
      for (let month = 0; month < 12; month++) {
        expect(found.yearByMonth.deliveredKwh[month]).toBeCloseTo(energy?.deliverableKwh[month] ?? -1, 8)
        expect(found.yearByMonth.shadeAndMismatchKwh[month]).toBeCloseTo(
          energy?.designLossKwh.shadeAndMismatch[month] ?? -1,
          8,
        )
      }
    })
  })

  test('E6 optimisers on the shaded panels beat all and none; a shade that moves takes the gain', async () => {
    const found = roofFindings(await example('shaded-three-faces'))?.options[1]?.optimisers
    expect(found?.fitted).toEqual([
      { array: 'south', panels: 4 },
      { array: 'west', panels: 3 },
    ])
    const { asFittedKwh = 0, allInsteadKwh = 0, noneInsteadKwh = 0, shadeMovedKwh = 0 } = found ?? {}
    expect(asFittedKwh).toBeGreaterThan(allInsteadKwh)
    expect(allInsteadKwh).toBeGreaterThan(noneInsteadKwh)
    expect(shadeMovedKwh).toBeLessThan(asFittedKwh)
    // with optimisers on all panels it does not matter where the shade falls, as long as it takes as much
    expect(Math.abs((found?.shadeMovedAllInsteadKwh ?? 0) / allInsteadKwh - 1)).toBeLessThan(0.001)
  })

  test('E2 the power curves fall, and differ only above the rating', async () => {
    for (const { powerDuration } of roofFindings(await example('unshaded-oversized'))?.options ?? []) {
      const { unlimitedKw, limitedKw, ratingKw } = powerDuration
      expect(ratingKw).not.toBeNull()
      unlimitedKw.forEach((kw, i) => {
        expect(kw).toBeLessThanOrEqual(unlimitedKw[i - 1] ?? Number.POSITIVE_INFINITY)
        expect(limitedKw[i]).toBeLessThanOrEqual(Math.min(kw, ratingKw ?? 0) + 1e-9)
        if (kw <= (ratingKw ?? 0)) expect(limitedKw[i]).toBeCloseTo(kw, 9)
      })
    }
  })

  test('E4 the shade map has the hours given, and nothing without shade', async () => {
    expect(roofFindings(await example('unshaded-oversized'))?.shadeMap).toBeNull()
    const map = roofFindings(await example('shaded-three-faces'))?.shadeMap
    // the tree stands from noon on, all year; before it only the gable takes the lowest sun
    expect(map?.[5]?.[15]).toBeGreaterThan(0.1)
    expect(map?.[5]?.[9]).toBeLessThan(0.005)
    expect(map?.[0]?.[2]).toBeNull()
  })

  test('shade in a word: the range contains the figure', async () => {
    const found = roofFindings(await example('business-export-limit'))
    expect(found?.shadeInWords).toBe(true)
    const [strings, units] = found?.options ?? []
    const delivered = sum(strings?.yearByMonth.deliveredKwh ?? [])
    expect(strings?.deliveredRangeKwh?.low).toBeLessThan(delivered)
    expect(strings?.deliveredRangeKwh?.high).toBeGreaterThan(delivered)
    // panels tracked alone keep their loss whatever strings lose
    expect(units?.deliveredRangeKwh?.low).toBeCloseTo(units?.deliveredRangeKwh?.high ?? 0, 6)
  })
})

describe('the shaded and the unshaded roof', () => {
  const delivered = (scenario: Scenario): number[] =>
    energyOfOptions(scenario, calendarOf(1, 1)).map(energy => sum([...energy.deliverableKwh]))

  test('on the shaded roof selective optimisers deliver most, on the clear one the plain string', async () => {
    const shaded = delivered(await example('shaded-three-faces'))
    expect(Math.max(...shaded)).toBe(shaded[1])
    expect((shaded[1] ?? 0) / (shaded[0] ?? 1)).toBeGreaterThan(1.05)
    const clear = delivered(await example('unshaded-oversized'))
    expect(Math.max(...clear)).toBe(clear[0])
    expect((clear[0] ?? 0) / (clear[1] ?? 1)).toBeLessThan(1.02)
  })
})
