import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { bestCurrent, bestPower, voltageAt } from '../../src/energy/panels/module-curve.ts'
import { litStrings } from '../../src/energy/strings/lit-strings.ts'
import type { PanelString } from '../../src/energy/strings/panel-string.ts'
import { sharedTrackerShare } from '../../src/energy/strings/string-power.ts'

/** Every point of a string's current, brute force. */
function bruteSeries(counts: readonly number[], suns: readonly number[]): number {
  const top = Math.max(...suns)
  let best = 0
  for (let i = 1; i < 20_000; i++) {
    const current = (top * i) / 20_000
    const voltage = counts.reduce((sum, count, part) => sum + count * voltageAt(current, suns[part] ?? 0), 0)
    best = Math.max(best, current * voltage)
  }
  return best
}

/** A converter that only steps down: above the current of the best point the power stays. */
function optimisedVoltageAt(current: number, suns: number): number {
  return current >= bestCurrent(suns) ? bestPower(suns) / current : voltageAt(current, suns)
}

function share(strings: readonly PanelString[], suns: readonly number[]): number {
  return sharedTrackerShare(litStrings(strings), Float64Array.from(suns))
}

const alone = (counts: readonly number[], suns: readonly number[]): number =>
  counts.reduce((sum, count, part) => sum + count * bestPower(suns[part] ?? 0), 0)

/** Power over that of the unshaded string, whose last `shaded` of 12 panels get `sun`. */
function shadedTwelve(shaded: number, sun: number): { string: number; selective: number; all: number } {
  const counts = [12 - shaded, shaded]
  const parts = counts.map((count, light) => ({ light, count, optimised: false }))
  const full = 12 * bestPower(1)
  const each = alone(counts, [1, sun])
  return {
    string: (share([{ parts, times: 1 }], [1, sun]) * each) / full,
    selective: ((12 - shaded) * bestPower(1) + 0.985 * shaded * bestPower(sun)) / full,
    all: (0.985 * each) / full,
  }
}

describe('E4 panels from their currents and voltages', () => {
  test('the curve has a fill factor of 0.785; above the current of its light a bypass diode carries it', () => {
    expect(bestPower(1)).toBeCloseTo(0.785, 3)
    expect(voltageAt(0.9, 0.9)).toBe(-0.03)
    expect(voltageAt(0.5, 0)).toBe(-0.03)
  })

  test('one string agrees with a search over every current', () => {
    const sun = fc.double({ min: 0.02, max: 1.1, noNaN: true })
    fc.assert(
      fc.property(fc.array(fc.tuple(sun, fc.integer({ min: 1, max: 9 })), { minLength: 2, maxLength: 6 }), panels => {
        const suns = panels.map(([light]) => light)
        const counts = panels.map(([, count]) => count)
        const brute = bruteSeries(counts, suns)
        const found = share(
          [{ parts: counts.map((count, light) => ({ light, count, optimised: false })), times: 1 }],
          suns,
        )
        expect(Math.abs(found * alone(counts, suns) - brute)).toBeLessThan(2e-4 * brute + 1e-9)
      }),
      { seed: 3, numRuns: 60 },
    )
  })

  test('parallel strings in equal light lose nothing; a string parallel to itself is one string', () => {
    const even = { parts: [{ light: 0, count: 10, optimised: false }], times: 1 }
    expect(share([even, { ...even }], [0.8])).toBeCloseTo(1, 4)
    const uneven = {
      parts: [
        { light: 0, count: 8, optimised: false },
        { light: 1, count: 4, optimised: false },
      ],
      times: 1,
    }
    expect(share([uneven, { ...uneven }], [1, 0.4])).toBeCloseTo(share([uneven], [1, 0.4]), 2)
  })

  test('E6 a string with some optimisers agrees with a search over every current', () => {
    const sun = fc.double({ min: 0.05, max: 1.1, noNaN: true })
    const part = fc.tuple(sun, fc.integer({ min: 1, max: 9 }), fc.boolean())
    fc.assert(
      fc.property(fc.array(part, { minLength: 2, maxLength: 5 }), panels => {
        const suns = panels.map(([light]) => light)
        const counts = panels.map(([, count]) => count)
        const parts = panels.map(([, count, optimised], light) => ({ light, count, optimised }))
        let brute = 0
        for (let i = 1; i < 20_000; i++) {
          const current = (1.1 * i) / 20_000
          const voltage = parts.reduce((sum, { light, count, optimised }) => {
            const at = optimised ? optimisedVoltageAt : voltageAt
            return sum + count * at(current, suns[light] ?? 0)
          }, 0)
          brute = Math.max(brute, current * voltage)
        }
        const found = share([{ parts, times: 1 }], suns) * alone(counts, suns)
        expect(Math.abs(found - brute)).toBeLessThan(3e-4 * brute)
      }),
      { seed: 6, numRuns: 60 },
    )
  })

  test('E6 optimisers on the shaded panels free the others; on the wrong panels they help little', () => {
    const on = (shaded: boolean): number =>
      share(
        [
          {
            parts: [
              { light: 0, count: 10, optimised: !shaded },
              { light: 1, count: 2, optimised: shaded },
            ],
            times: 1,
          },
        ],
        [1, 0.5],
      )
    expect(on(true)).toBeGreaterThan(0.999)
    const none = share(
      [
        {
          parts: [
            { light: 0, count: 10, optimised: false },
            { light: 1, count: 2, optimised: false },
          ],
          times: 1,
        },
      ],
      [1, 0.5],
    )
    expect(on(false)).toBeGreaterThanOrEqual(none - 1e-6)
    expect(on(false)).toBeLessThan(none + 0.3 * (1 - none))
  })

  test('E6 an optimised string parallel to a plain one takes its voltage', () => {
    const plain = { parts: [{ light: 0, count: 8, optimised: false }], times: 1 }
    const mixed = {
      parts: [
        { light: 0, count: 5, optimised: false },
        { light: 1, count: 3, optimised: true },
      ],
      times: 1,
    }
    const without = { ...mixed, parts: mixed.parts.map(part => ({ ...part, optimised: false })) }
    expect(share([plain, mixed], [1, 0.4])).toBeGreaterThan(share([plain, without], [1, 0.4]))
  })

  test('check values: a string of 12 with some panels at 0.6 or 0.4 suns (half or three quarters of the beam lost)', () => {
    const cases = [
      [1, 0.6, 0.914, 0.965, 0.951],
      [2, 0.6, 0.827, 0.929, 0.917],
      [2, 0.4, 0.827, 0.896, 0.883],
    ] as const
    for (const [shaded, sun, string, selective, all] of cases) {
      const found = shadedTwelve(shaded, sun)
      expect(Math.abs(found.string - string)).toBeLessThan(0.002)
      expect(Math.abs(found.selective - selective)).toBeLessThan(0.003)
      expect(Math.abs(found.all - all)).toBeLessThan(0.003)
      // E6: fitting only the shaded panels beats fitting all by about 1.2 to 1.4 points
      expect(found.selective - found.all).toBeGreaterThan(0.011)
      expect(found.selective - found.all).toBeLessThan(0.0145)
    }
  })

  test('check values: some 60 % of the loss is won back where few panels lose half their beam, some 20 % where black', () => {
    for (const shaded of [1, 2, 3, 4]) {
      const each = alone([12 - shaded, shaded], [1, 0.6]) / (12 * bestPower(1))
      const { string } = shadedTwelve(shaded, 0.6)
      expect((each - string) / (1 - string)).toBeGreaterThan(0.55)
      expect((each - string) / (1 - string)).toBeLessThan(0.65)
      const black = alone([12 - shaded, shaded], [1, 0.2]) / (12 * bestPower(1))
      const dark = shadedTwelve(shaded, 0.2).string
      expect((black - dark) / (1 - dark)).toBeGreaterThan(0.15)
      expect((black - dark) / (1 - dark)).toBeLessThan(0.27)
    }
  })
})
