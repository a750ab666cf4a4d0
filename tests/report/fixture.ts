/**
 * Invented results, for every test of the report: plausible figures that no run produced. Nothing in them is a finding.
 */
import type { OptionResult } from '../../src/analysis/results/option.ts'
import type { Results } from '../../src/analysis/results.ts'
import { at, homeResults } from './fixture-home.ts'
import { YEARS } from './fixture-option.ts'
import { pairOf } from './fixture-pieces.ts'

export { homeResults, pairOf }

export function quietResults(): Results {
  const home = homeResults()
  const a = at(home.options, 0)
  const zeros = Array.from({ length: YEARS }, () => 0)
  const none = { mean: 0, standardError: 0, exactMean: 0, comparedMean: 0, zScore: null }
  const costs = { ...a.costs, parts: 0, labour: 0, visits: 0, outageEnergy: 0, designEnergy: 0 }
  const upfront = costs.upfront
  const noFailures = { paper: zeros.map(() => null), effective: zeros.map(() => null) }
  const noCover = { ...noFailures, firstYears: { years: 10, paper: null, effective: null } }
  const quiet: OptionResult = {
    ...a,
    name: 'Only one',
    lifetimeCost: {
      mean: upfront,
      standardError: 0,
      p5: upfront,
      p10: upfront,
      p50: upfront,
      p90: upfront,
      p95: upfront,
      worstTenthMean: upfront,
      standardErrors: { p5: 0, p10: 0, p50: 0, p90: 0, p95: 0, worstTenthMean: 0 },
    },
    costs,
    costStandardErrors: { ...a.costStandardErrors, parts: 0, labour: 0, visits: 0, outageEnergy: 0 },
    surcharges: 0,
    paidByCover: null,
    paidByCoverStandardError: 0,
    noVisitStandardError: 0,
    totals: { acquisition: upfront, ownership: 0, withoutLostEnergy: upfront },
    visitShares: { none: 1, one: 0, twoOrMore: 0 },
    billYears10To15: { p90: 0, standardErrors: { p90: 0 } },
    withStraightLine: { mean: upfront },
    failures: { ...none, atLeastOneByYear: [0, ...zeros] },
    failuresByYear: zeros,
    populations: [
      {
        kind: 'string-inverter',
        tier: null,
        count: 1,
        checked: 'none',
        failures: { ...none, exactMean: null, comparedMean: null },
        firstFailures: { ...none, exactMean: null, comparedMean: null },
        laterLives: null,
        plannedReplacements: { mean: 0 },
      },
    ],
    visits: { mean: 0, standardError: 0 },
    visitsInAll: { mean: 0 },
    downtimeDays: { mean: 0 },
    availability: { timeBased: 1, energyWeighted: null },
    energy: {
      idealKwh: 0,
      designLossKwh: { clipping: 0, shadeAndMismatch: 0, conversion: 0, exportLimit: 0 },
      clippingValue: 0,
      outageLossKwh: { mean: 0, standardError: 0, p90: 0, standardErrors: { p90: 0 } },
      deliveredKwh: 0,
      costPerDeliveredKwh: null,
      idealByMonthKwh: Array.from({ length: 12 }, () => 0),
      deliveredByMonthKwh: Array.from({ length: 12 }, () => 0),
    },
    outOfPocket: { mean: 0, standardError: 0 },
    cashByYear: { mean: zeros },
    cumulativeCash: { p50: zeros, p80: zeros, p90: zeros, p95: zeros },
    largestYear: { p50: 0, p90: 0, standardErrors: { p50: 0, p90: 0 } },
    reserve: {
      ...a.reserve,
      contributionAt: { '50': 0, '80': 0, '90': 0 },
      contributionPerYear: 0,
      contributionPerMonth: 0,
      chanceShort: 0,
      meanShortfall: 0,
      firstShortYear: null,
      readyAhead: zeros,
    },
    balanceByYear: { p10: zeros, p50: zeros, p90: zeros },
    coverByYear: noFailures,
    coverInAll: noCover,
    coverByComponent: [{ component: 'string-inverter', years: 5, ...noCover }],
    replacementAge: null,
    waitingPolicy: null,
    variance: { chanceShare: null, unknownShare: null, judgementShare: null },
  }
  return {
    ...home,
    scenario: { ...home.scenario, title: 'One quote' },
    blocks: 1,
    draws: 1000,
    parameterSets: 1,
    inputs: [],
    options: [quiet],
    comparisons: [],
    roof: null,
    warrantySweep: [],
    switchPoints: [],
    swings: [],
    drivers: [],
    driverSets: 1,
    notes: [],
  }
}

/** Two options that cannot be distinguished. */
export function closeResults(): Results {
  const home = homeResults()
  const [a, b] = [at(home.options, 0), at(home.options, 1)]
  return {
    ...home,
    options: [a, b],
    comparisons: [pairOf(b, a, { verdict: 'too close to call', chanceBetterOnAverage: 0.55 })],
    warrantySweep: home.warrantySweep.slice(0, 2),
    notes: [],
  }
}
