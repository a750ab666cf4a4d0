import { expect, test } from 'vitest'
import { type LostEnergy, loseShare } from '../../src/ledger/outages/energy-value.ts'
import type { EnergySupply } from '../../src/ledger/terms.ts'
import { CompoundFactor } from '../../src/numerics/compound-factor.ts'

const flat = new CompoundFactor(0)
const prices = {
  importPrice: 0.5,
  exportPrice: 0.1,
  importGrowth: flat,
  exportGrowth: flat,
  selfConsumed: new Float64Array(12),
}

const NONE = new Float64Array(12)
const NO_LOSS = { clipping: NONE, shadeAndMismatch: NONE, conversion: NONE, exportLimit: NONE }

/** Twelve equal months of 100 kWh; a table of three shares, which is 0 except in March. */
function supplyOf(lost: readonly number[], selfUsed: readonly number[]): EnergySupply {
  const inMarch = (shares: readonly number[]) =>
    Float64Array.from({ length: 36 }, (_, i) => (Math.floor(i / 3) === 2 ? (shares[i % 3] ?? 0) : 0))
  return {
    monthStart: Float64Array.from({ length: 13 }, (_, month) => month / 12),
    calendarMonth: [2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 0, 1],
    idealKwh: new Float64Array(12).fill(100),
    deliverableKwh: new Float64Array(12).fill(100),
    designLossKwh: NO_LOSS,
    batteryYear: null,
    designLossSelfUsedKwh: null,
    designLossUnpaidKwh: null,
    partialLoss: {
      shares: Float64Array.of(0, 0.4, 1),
      lostShare: inMarch(lost),
      lostSelfUsedShare: inMarch(selfUsed),
    },
  }
}

test.each([
  [0.1, 2.5, 1],
  [0.4, 10, 4],
  [0.7, 55, 22],
  [1, 100, 40],
])('C5: of a share of %d a table loses what lies on the line between its shares', (share, kwh, selfUsed) => {
  const out: LostEnergy = { kwh: 0, value: 0 }
  // the first month is March
  loseShare(supplyOf([0, 0.1, 1], [0, 0.04, 0.4]), prices, 0, 0, 1 / 12, share, out)
  expect(out.kwh).toBeCloseTo(kwh, 9)
  expect(out.value).toBeCloseTo(selfUsed * 0.5 + (kwh - selfUsed) * 0.1, 9)
})
