/**
 * Invented results, one option: plausible figures that no run produced. Nothing in them is a finding.
 */
import type { CostLines, OptionResult } from '../../src/analysis/results/option.ts'
import type { ComponentKind, Tier } from '../../src/topologies/kinds.ts'

/** Years of the invented scenario. */
export const YEARS = 25

/** What an option is invented from. */
export interface Sketch {
  id: string
  name: string
  topology: string
  tier: Tier | null
  kind: ComponentKind
  count: number
  lifeYears: number
  shape: number
  upfront: number
  bill: number
  outageKwh: number
  designKwh: number
  coverYears: number
  paid?: Partial<CostLines>
}

function failedShare(sketch: Sketch, year: number): number {
  return 1 - Math.exp(-sketch.count * (year / sketch.lifeYears) ** sketch.shape)
}

function rate(sketch: Sketch, year: number): number {
  const cumulative = (t: number): number => sketch.count * (t / sketch.lifeYears) ** sketch.shape
  return (cumulative(year + 1) - cumulative(year)) * 0.8
}

/** A whole option from a few figures. */
export function sketched(sketch: Sketch): OptionResult {
  const failuresByYear = Array.from({ length: YEARS }, (_, year) => rate(sketch, year))
  const failures = failuresByYear.reduce((sum, value) => sum + value, 0)
  const paid = (year: number): number => (year < sketch.coverYears ? 0.3 : 1)
  const cash = failuresByYear.map((value, year) => value * sketch.bill * paid(year))
  const present = cash.reduce((sum, value, year) => sum + value / 1.04 ** (year + 0.5), 0)
  const running = (factor: number): number[] => {
    let total = 0
    return cash.map(value => {
      total += value
      return Math.max(0, total * factor - (factor < 1 ? sketch.bill * 0.4 : 0))
    })
  }
  const costs: CostLines = {
    upfront: sketch.upfront,
    yearly: 0,
    parts: present * 0.52,
    labour: present * 0.26,
    visits: present * 0.22,
    warranty: 0,
    outageEnergy: sketch.outageKwh * 0.085,
    designEnergy: sketch.designKwh * 0.06,
    batteryOutage: 0,
    batteryEarnings: 0,
    later: 0,
    residual: 0,
    ...sketch.paid,
  }
  const mean = Object.values(costs).reduce((sum, value) => sum + value, 0)
  const spread = present * 0.75 + 60
  const cumulative = { p50: running(0.8), p80: running(1.5), p90: running(1.9), p95: running(2.3) }
  const need = (values: number[]): number => Math.max(0, ...values.map((value, year) => value / (year + 1)))
  const contribution = need(cumulative.p90)
  const ideal = 7100 * YEARS
  const share = failedShare(sketch, YEARS)
  const monthly = [260, 360, 590, 730, 850, 880, 900, 800, 620, 420, 280, 210].map(kwh => kwh * YEARS)
  const cover = {
    paper: failuresByYear.map((value, year) =>
      value < 1e-6 ? null : year < sketch.coverYears ? 1 : Math.max(0, 0.25 - 0.01 * year),
    ),
    effective: failuresByYear.map((value, year) =>
      value < 1e-6 ? null : Math.max(0, year < sketch.coverYears ? 0.62 - 0.02 * year : 0.1 - 0.004 * year),
    ),
    firstYears: { years: 10, paper: 0.9, effective: 0.4 },
  }
  return {
    id: sketch.id,
    name: sketch.name,
    topology: sketch.topology,
    batteryWorth: 'none',
    laterPurchases: [],
    lifetimeCost: {
      mean,
      standardError: 6 + present * 0.006,
      p5: mean - spread * 1.1,
      p10: mean - spread * 0.95,
      p50: mean - spread * 0.15,
      p90: mean + spread * 1.2,
      p95: mean + spread * 1.7,
      worstTenthMean: mean + spread * 1.9,
      standardErrors: { p5: 11, p10: 8, p50: 7, p90: 14, p95: 21, worstTenthMean: 25 },
    },
    costs,
    costStandardErrors: {
      upfront: 0,
      yearly: 0,
      parts: 4,
      labour: 2.2,
      visits: 2,
      warranty: 0,
      outageEnergy: 1.1,
      designEnergy: 0,
      batteryOutage: 0,
      batteryEarnings: 0,
      later: 0,
      residual: 0,
    },
    surcharges: present * 0.05,
    paidByCover: { parts: present * 0.3, labour: present * 0.06, visits: present * 0.02 },
    paidByCoverStandardError: 3,
    totals: {
      acquisition: costs.upfront + costs.warranty,
      ownership: mean - costs.upfront - costs.warranty,
      withoutLostEnergy: mean - costs.outageEnergy - costs.designEnergy - costs.batteryOutage,
    },
    noVisitStandardError: 0.004,
    visitShares: { none: 1 - share, one: share * 0.45, twoOrMore: share * 0.55 },
    billYears10To15: { p90: sketch.bill * 1.05, standardErrors: { p90: 12 } },
    withStraightLine: { mean: mean - sketch.upfront * 0.03 },
    failures: {
      mean: failures,
      standardError: 0.008,
      exactMean: failures - 0.004,
      comparedMean: failures - 0.004,
      zScore: 0.5,
      atLeastOneByYear: Array.from({ length: YEARS + 1 }, (_, year) => failedShare(sketch, year)),
    },
    failuresByEffect: byEffect(sketch, failures),
    failuresByYear,
    populations: [
      {
        kind: sketch.kind,
        tier: sketch.tier,
        count: sketch.count,
        checked: sketch.count > 1 ? 'first failures' : 'failures',
        failures: {
          mean: failures,
          standardError: 0.008,
          exactMean: sketch.count > 1 ? null : failures - 0.004,
          comparedMean: sketch.count > 1 ? null : failures - 0.004,
          zScore: sketch.count > 1 ? null : 0.5,
        },
        firstFailures: {
          mean: share,
          standardError: 0.003,
          exactMean: share + 0.004,
          comparedMean: share + 0.004,
          zScore: -1.33,
        },
        laterLives: null,
        plannedReplacements: { mean: 0 },
      },
      ...(sketch.count > 1
        ? [
            {
              kind: 'gateway' as const,
              tier: null,
              count: 1,
              checked: 'failures' as const,
              failures: { mean: 1.31, standardError: 0.007, exactMean: 1.302, comparedMean: 1.302, zScore: 1.14 },
              firstFailures: { mean: 0.79, standardError: 0.003, exactMean: null, comparedMean: null, zScore: null },
              laterLives: null,
              plannedReplacements: { mean: 0 },
            },
          ]
        : []),
    ],
    visits: { mean: failures * 0.9, standardError: 0.008 },
    visitsInAll: { mean: failures * 0.95 },
    downtimeDays: { mean: sketch.outageKwh / 19.5 },
    availability: {
      timeBased: 1 - sketch.outageKwh / 19.5 / (365 * YEARS),
      energyWeighted: 1 - sketch.outageKwh / ideal,
    },
    daysWithoutBackup: sketch.topology === 'hybrid' ? 64 : null,
    energy: {
      idealKwh: ideal,
      designLossKwh: {
        clipping: sketch.designKwh * 0.3,
        shadeAndMismatch: sketch.designKwh * 0.5,
        conversion: sketch.designKwh * 0.2,
        exportLimit: 0,
      },
      clippingValue: 30,
      outageLossKwh: {
        mean: sketch.outageKwh,
        standardError: 9,
        p90: sketch.outageKwh * 2.3,
        standardErrors: { p90: 20 },
      },
      deliveredKwh: ideal - sketch.outageKwh - sketch.designKwh,
      costPerDeliveredKwh: mean / ideal / 0.62,
      idealByMonthKwh: monthly.map(kwh => kwh * 1.02),
      deliveredByMonthKwh: monthly,
    },
    outOfPocket: { mean: present, standardError: 5 },
    cashByYear: { mean: cash },
    cumulativeCash: cumulative,
    largestYear: { p50: sketch.bill * 0.95, p90: sketch.bill * 1.2, standardErrors: { p50: 4, p90: 12 } },
    reserve: {
      confidence: 0.9,
      contributionAt: { '50': need(cumulative.p50), '80': need(cumulative.p80), '90': contribution },
      contributionPerYear: contribution,
      contributionPerMonth: contribution / 12,
      chanceShort: 0.1,
      meanShortfall: sketch.bill * 0.6,
      firstShortYear: 13,
      fullyFundedBalance: 0,
      percentFunded: null,
      readyAhead: cash.map(
        (_, year) => (cash[year + 1] ?? 0) + 0.66 * (cash[year + 2] ?? 0) + 0.33 * (cash[year + 3] ?? 0),
      ),
      fixedInMoney: null,
      twoPart: { ready: contribution * 2, perYear: contribution * 0.6, confidence: 0.9 },
    },
    balanceByYear: {
      p10: cumulative.p90.map((value, year) => contribution * (year + 1) - value),
      p50: cumulative.p50.map((value, year) => contribution * (year + 1) - value),
      p90: cumulative.p50.map((value, year) => contribution * (year + 1) - value * 0.3),
    },
    coverByYear: { paper: cover.paper, effective: cover.effective },
    coverInAll: cover,
    coverByComponent: [{ component: sketch.kind, years: sketch.coverYears, ...cover }],
    replacementAge:
      sketch.count > 1
        ? null
        : {
            component: sketch.kind,
            ages: [5, 8, 10, 12, 14, 16, 18, 20, 22],
            cost: [1180, 720, 540, 420, 350, 310, 290, 280, 276].map(extra => mean + extra),
            runToFailureCost: mean,
            best: null,
            gain: 0,
            standardError: 8,
            draws: 1000,
          },
    countedAlike: null,
    waitingPolicy:
      sketch.count > 1
        ? {
            waitForUnits: [1, 2, 3, 4],
            waitAtMostDays: [90, 180, 365],
            cost: [
              [mean, mean, mean],
              [mean - 90, mean - 150, mean - 170],
              [mean - 120, mean - 190, mean - 240],
              [mean - 121, mean - 180, mean - 232],
            ],
            best: { waitForUnits: 3, waitAtMostDays: 365 },
            against: null,
            draws: 1000,
            saves: 240,
            standardError: 9,
            oneUnitYear: { kwh: 345, value: 54 },
          }
        : null,
    variance: { chanceShare: 0.63, unknownShare: 0.37, judgementShare: 0.64 },
  }
}

/** All failures of gateways are of monitoring, all others stop energy. */
function byEffect(sketch: Sketch, mean: number): OptionResult['failuresByEffect'] {
  const none = { mean: 0, standardError: 0, atLeastOneByYear: new Array<number>(YEARS + 1).fill(0) }
  const atLeastOneByYear = Array.from({ length: YEARS + 1 }, (_, year) => failedShare(sketch, year))
  return { stopEnergy: { mean, standardError: 0.008, atLeastOneByYear }, monitoringOnly: none, batteryOnly: none }
}
