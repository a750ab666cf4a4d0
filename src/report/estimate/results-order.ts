import type { Results } from '../../analysis/results.ts'
import { COST_LINE_NAMES, type CostLine } from '../../ledger/cost-lines.ts'
import type { KeyOrder } from '../key-order.ts'

const TWO_PART = { ready: true, perYear: true, confidence: true } as const

const ESTIMATE = { mean: true, standardError: true } as const

const COVER = { paper: true, effective: true, firstYears: { years: true, paper: true, effective: true } } as const

const EFFECT = { ...ESTIMATE, atLeastOneByYear: true } as const

const NULL_CASE = { meanDifference: true, standardError: true, breakEvenPremium: true } as const

const COUNT = { ...ESTIMATE, exactMean: true, comparedMean: true, zScore: true } as const

// the type of fromEntries has no keys
const COSTS = Object.fromEntries(COST_LINE_NAMES.map(line => [line, true])) as Readonly<Record<CostLine, true>>

const COST_PERCENTILES = { p5: true, p10: true, p50: true, p90: true, p95: true, worstTenthMean: true } as const

const P90 = { p90: true } as const

const SHARES = { chanceShare: true, unknownShare: true, judgementShare: true } as const

/**
 * The order in which results.json lists its keys: that of results.ts. A key added there and not here does not compile.
 */
export const RESULTS_ORDER: KeyOrder<Results> = {
  tool: { name: true, version: true },
  scenario: { title: true, currency: true, horizonYears: true, discountRate: true },
  seed: true,
  draws: true,
  errorShare: true,
  blocks: true,
  parameterSets: true,
  inputs: { key: true, value: true, low: true, high: true, unit: true, source: true, known: true, weakest: true },
  options: {
    id: true,
    name: true,
    topology: true,
    batteryWorth: true,
    laterPurchases: true,
    lifetimeCost: {
      ...ESTIMATE,
      ...COST_PERCENTILES,
      standardErrors: COST_PERCENTILES,
    },
    costs: COSTS,
    costStandardErrors: COSTS,
    surcharges: true,
    paidByCover: { parts: true, labour: true, visits: true },
    paidByCoverStandardError: true,
    totals: { acquisition: true, ownership: true, withoutLostEnergy: true },
    visitShares: { none: true, one: true, twoOrMore: true },
    noVisitStandardError: true,
    billYears10To15: { ...P90, standardErrors: P90 },
    withStraightLine: { mean: true },
    failures: { ...COUNT, atLeastOneByYear: true },
    failuresByEffect: { stopEnergy: EFFECT, monitoringOnly: EFFECT, batteryOnly: EFFECT },
    failuresByYear: true,
    populations: {
      kind: true,
      tier: true,
      count: true,
      checked: true,
      failures: COUNT,
      firstFailures: COUNT,
      laterLives: { ...COUNT, draws: true },
      plannedReplacements: { mean: true },
    },
    visits: ESTIMATE,
    visitsInAll: { mean: true },
    downtimeDays: { mean: true },
    availability: { timeBased: true, energyWeighted: true },
    daysWithoutBackup: true,
    energy: {
      idealKwh: true,
      designLossKwh: { clipping: true, shadeAndMismatch: true, conversion: true, exportLimit: true },
      clippingValue: true,
      outageLossKwh: { ...ESTIMATE, ...P90, standardErrors: P90 },
      deliveredKwh: true,
      costPerDeliveredKwh: true,
      idealByMonthKwh: true,
      deliveredByMonthKwh: true,
    },
    outOfPocket: ESTIMATE,
    cashByYear: { mean: true },
    cumulativeCash: { p50: true, p80: true, p90: true, p95: true },
    largestYear: { p50: true, ...P90, standardErrors: { p50: true, ...P90 } },
    reserve: {
      confidence: true,
      contributionAt: { '50': true, '80': true, '90': true },
      contributionPerYear: true,
      contributionPerMonth: true,
      chanceShort: true,
      meanShortfall: true,
      firstShortYear: true,
      fullyFundedBalance: true,
      percentFunded: true,
      readyAhead: true,
      fixedInMoney: { '50': true, '80': true, '90': true, contributionPerYear: true, twoPart: TWO_PART },
      twoPart: TWO_PART,
    },
    balanceByYear: { p10: true, p50: true, p90: true },
    coverByYear: { paper: true, effective: true },
    coverInAll: COVER,
    coverByComponent: { component: true, years: true, ...COVER },
    replacementAge: {
      component: true,
      ages: true,
      cost: true,
      runToFailureCost: true,
      best: true,
      gain: true,
      standardError: true,
      draws: true,
    },
    waitingPolicy: {
      waitForUnits: true,
      waitAtMostDays: true,
      cost: true,
      best: { waitForUnits: true, waitAtMostDays: true },
      against: { waitForUnits: true, waitAtMostDays: true },
      draws: true,
      saves: true,
      standardError: true,
      oneUnitYear: { kwh: true, value: true },
    },
    countedAlike: { visitAtOnce: ESTIMATE, perfectMonitoring: ESTIMATE, draws: true },
    variance: SHARES,
  },
  roof: {
    light: true,
    accuracyShare: true,
    arrays: { name: true, kw: true, kwhPerKw: true, lightKwhM2: true },
    shadeMap: true,
    shadeInWords: true,
    options: {
      option: true,
      yearByMonth: {
        idealKwh: true,
        shadeAndMismatchKwh: true,
        conversionKwh: true,
        clippingKwh: true,
        exportLimitKwh: true,
        deliveredKwh: true,
      },
      powerDuration: { hours: true, unlimitedKw: true, limitedKw: true, ratingKw: true },
      deliveredRangeKwh: { low: true, high: true },
      optimisers: {
        fitted: { array: true, panels: true },
        asFittedKwh: true,
        allInsteadKwh: true,
        noneInsteadKwh: true,
        shadeMovedKwh: true,
        shadeMovedAllInsteadKwh: true,
      },
    },
  },
  comparisons: {
    option: true,
    against: true,
    meanDifference: true,
    standardError: true,
    interval90: true,
    chanceBetterOnAverage: true,
    chanceCheaper: true,
    breakEvenPremium: true,
    breakEvenInterval90: true,
    verdict: true,
    aheadFromYear: true,
    batteryWouldHaveToEarnPerDay: true,
    batteryEarnsPerDay: true,
    varianceShares: SHARES,
    verdictGrade: true,
    turnedBy: { input: true, known: true },
    wideRun: {
      draws: true,
      verdict: true,
      ordinaryVerdict: true,
      meanDifference: true,
      standardError: true,
      chanceBetterOnAverage: true,
    },
    withTierEffect0: NULL_CASE,
    withTierEffect0AndSpareAlike: NULL_CASE,
  },
  warrantySweep: {
    option: true,
    component: true,
    years: true,
    outOfPocketMean: true,
    outOfPocketIfProviderStays: true,
    worth: true,
    worthStandardErrors: true,
    energyLostToClaims: true,
    otherComponents: { component: true, years: true, worth: true, standardError: true, draws: true },
    offers: {
      component: true,
      years: true,
      labourYears: true,
      price: true,
      worth: true,
      worthIfProviderStays: true,
      standardError: true,
      taken: true,
      verdict: true,
    },
  },
  switchPoints: {
    input: true,
    option: true,
    unit: true,
    present: true,
    value: true,
    low: true,
    high: true,
    halfFailBy: { present: true, value: true, low: true, high: true },
    differenceThere: true,
    standardError: true,
    draws: true,
  },
  swings: {
    input: true,
    option: true,
    unit: true,
    low: true,
    high: true,
    costAtLow: true,
    costAtHigh: true,
    differenceAtLow: true,
    differenceAtHigh: true,
    draws: true,
  },
  drivers: { input: true, share: true, standardError: true },
  driverSets: true,
  notes: { code: true, text: true, option: true },
}
