/**
 * Invented results: plausible figures that no run produced, so that the report can be looked at without an engine.
 * Nothing in them is a finding.
 */
import type { Comparison, CostLines, OptionResult, Results, WarrantySweep } from '../../src/analysis/results.ts'
import type { Assumption, Known } from '../../src/scenario/model.ts'

const YEARS = 25

interface Sketch {
  id: string
  name: string
  topology: string
  tier: 'budget' | 'plain' | 'robust' | null
  kind: string
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
  return {
    id: sketch.id,
    name: sketch.name,
    topology: sketch.topology,
    lifetimeCost: {
      mean,
      standardError: 6 + present * 0.006,
      p5: mean - spread * 1.1,
      p10: mean - spread * 0.95,
      p50: mean - spread * 0.15,
      p90: mean + spread * 1.2,
      p95: mean + spread * 1.7,
      worstTenthMean: mean + spread * 1.9,
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
      residual: 0,
    },
    surcharges: present * 0.05,
    paidByCover: { parts: present * 0.3, labour: present * 0.06, visits: present * 0.02 },
    totals: {
      acquisition: costs.upfront + costs.warranty,
      ownership: mean - costs.upfront - costs.warranty,
      withoutLostEnergy: mean - costs.outageEnergy - costs.designEnergy - costs.batteryOutage,
    },
    visitShares: { none: 1 - share, one: share * 0.45, twoOrMore: share * 0.55 },
    billYears10To15: { p90: sketch.bill * 1.05 },
    withStraightLine: { mean: mean - sketch.upfront * 0.03 },
    failures: {
      mean: failures,
      standardError: 0.008,
      exactMean: failures - 0.004,
      comparedMean: failures - 0.004,
      zScore: 0.5,
      atLeastOneByYear: Array.from({ length: YEARS + 1 }, (_, year) => failedShare(sketch, year)),
    },
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
        plannedReplacements: { mean: 0 },
      },
      ...(sketch.count > 1
        ? [
            {
              kind: 'gateway',
              tier: null,
              count: 1,
              checked: 'failures' as const,
              failures: { mean: 1.31, standardError: 0.007, exactMean: 1.302, comparedMean: 1.302, zScore: 1.14 },
              firstFailures: { mean: 0.79, standardError: 0.003, exactMean: null, comparedMean: null, zScore: null },
              plannedReplacements: { mean: 0 },
            },
          ]
        : []),
    ],
    visits: { mean: failures * 0.9, standardError: 0.008 },
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
      outageLossKwh: { mean: sketch.outageKwh, standardError: 9, p90: sketch.outageKwh * 2.3 },
      deliveredKwh: ideal - sketch.outageKwh - sketch.designKwh,
      costPerDeliveredKwh: mean / ideal / 0.62,
      idealByMonthKwh: monthly.map(kwh => kwh * 1.02),
      deliveredByMonthKwh: monthly,
    },
    outOfPocket: { mean: present, standardError: 5 },
    cashByYear: { mean: cash },
    cumulativeCash: cumulative,
    largestYear: { p50: sketch.bill * 0.95, p90: sketch.bill * 1.2 },
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
    },
    balanceByYear: {
      p10: cumulative.p90.map((value, year) => contribution * (year + 1) - value),
      p50: cumulative.p50.map((value, year) => contribution * (year + 1) - value),
      p90: cumulative.p50.map((value, year) => contribution * (year + 1) - value * 0.3),
    },
    coverByYear: {
      paper: failuresByYear.map((value, year) =>
        value < 1e-6 ? null : year < sketch.coverYears ? 1 : Math.max(0, 0.25 - 0.01 * year),
      ),
      effective: failuresByYear.map((value, year) =>
        value < 1e-6 ? null : Math.max(0, year < sketch.coverYears ? 0.62 - 0.02 * year : 0.1 - 0.004 * year),
      ),
    },
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
          },
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
            saves: 240,
            standardError: 9,
            oneUnitYear: { kwh: 345, value: 54 },
          }
        : null,
    variance: { chanceShare: 0.63, unknownShare: 0.37 },
  }
}

export function pairOf(
  dearer: OptionResult,
  cheaper: OptionResult,
  given: Partial<Comparison> & Pick<Comparison, 'verdict'>,
): Comparison {
  const meanDifference = dearer.lifetimeCost.mean - cheaper.lifetimeCost.mean
  const premium = dearer.costs.upfront - cheaper.costs.upfront
  const half = 480
  return {
    option: dearer.id,
    against: cheaper.id,
    meanDifference,
    standardError: 14,
    interval90: [meanDifference - half, meanDifference + half],
    chanceBetterOnAverage: meanDifference < 0 ? 0.86 : 0.12,
    chanceCheaper: meanDifference < 0 ? 0.66 : 0.3,
    breakEvenPremium: premium - meanDifference,
    breakEvenInterval90: [premium - meanDifference - half, premium - meanDifference + half],
    aheadFromYear: meanDifference < 0 ? 14 : null,
    varianceShares: { chanceShare: 0.58, unknownShare: 0.42 },
    withTierEffect0: null,
    ...given,
  }
}

function sweepOf(option: OptionResult, offers: WarrantySweep['offers']): WarrantySweep {
  const years = Array.from({ length: YEARS + 1 }, (_, year) => year)
  const base = option.outOfPocket.mean * 1.35
  const fall = (year: number, rest: number): number => base * (rest + (1 - rest) * Math.exp(-((year / 13) ** 2)))
  return {
    option: option.id,
    component: option.populations[0]?.kind ?? '',
    years,
    outOfPocketMean: years.map(year => fall(year, 0.55)),
    outOfPocketIfProviderStays: years.map(year => fall(year, 0.36)),
    worth: years.map(year => (base - fall(year, 0.55)) * 0.98),
    worthStandardErrors: years.map(year => (year === 0 ? 0 : 4)),
    energyLostToClaims: years.map(year => (base - fall(year, 0.55)) * 0.02),
    offers,
  }
}

function assumption(
  key: string,
  value: number | string | null,
  unit: string,
  known: Known,
  source: string,
  range: readonly [number, number] | null = null,
): Assumption {
  return { key, value, low: range?.[0] ?? null, high: range?.[1] ?? null, unit, source, known }
}

const BUCHER = 'Bucher, Wandel and Joss 2022, Life expectancy of PV inverters and optimizers in residential PV systems'
const OURS = 'judgement of this program; no source carries this number'

function inputsOf(options: readonly OptionResult[]): Assumption[] {
  const yours = 'your scenario'
  return [
    assumption('discount_rate', 0.04, 'share per year', 'yours', yours),
    assumption(
      'site.generation.monthly_kwh',
      '310, 440, 700, 850, 960, 980, 1000, 900, 720, 500, 330, 260',
      'kWh',
      'yours',
      yours,
    ),
    assumption(
      'site.generation.degradation',
      0.005,
      'share per year',
      'published',
      'Jordan and Kurtz 2011, Progress in Photovoltaics, abstract',
      [0.003, 0.009],
    ),
    assumption('site.energy_value.import_price_per_kwh', 0.31, 'EUR per kWh', 'yours', yours, [0.26, 0.38]),
    assumption('site.energy_value.export_price_per_kwh', 0.07, 'EUR per kWh', 'yours', yours),
    assumption('site.energy_value.self_consumed', 0.35, 'share', 'yours', yours),
    assumption('visit.call_out', 140, 'EUR', 'yours', yours, [100, 190]),
    assumption('visit.roof_access', 100, 'EUR', 'judgement', OURS),
    assumption('tier_effect', 1, '', 'judgement', OURS, [0.2, 1.8]),
    ...options.flatMap(option => {
      const first = `${option.name} / ${option.populations[0]?.kind}`
      return [
        assumption(`${option.name} / upfront_cost`, option.costs.upfront, 'EUR', 'yours', yours),
        assumption(`${first} / failure.failed_by.15`, 0.343, 'share by year 15', 'published', BUCHER),
        assumption(`${first} / failure.shape`, 2.2, '', 'judgement', OURS, [1.5, 3.2]),
        assumption(`${first} / downtime.detect_days`, 3, 'days', 'judgement', OURS),
        assumption(
          `${first} / downtime.respond_days`,
          14,
          'days',
          'recalled',
          'trade pages 2024 to 2026, range of opinions',
          [10, 20],
        ),
        assumption(
          `${first} / warranty.years`,
          option.id === 'B' ? 12 : 5,
          'years',
          option.id === 'B' ? 'yours' : 'judgement',
          option.id === 'B' ? yours : OURS,
        ),
        assumption(`${first} / warranty.labour_years`, 2, 'years', 'judgement', OURS),
        assumption(`${first} / warranty.claim_success`, 0.9, 'share', 'judgement', OURS, [0.8, 0.97]),
        assumption(`${first} / replacement.parts`, 1150, 'EUR', 'yours', yours, [900, 1400]),
        assumption(
          `${first} / replacement.labour`,
          260,
          'EUR',
          'recalled',
          'trade price lists, one country',
          [200, 500],
        ),
        assumption(
          `${option.name} / warranty_provider.exit_rate_per_year`,
          0.03,
          'share per year',
          'judgement',
          OURS,
          [0.01, 0.08],
        ),
      ]
    }),
  ]
}

const SKETCHES: readonly Sketch[] = [
  {
    id: 'A',
    name: 'Plain string inverter',
    topology: 'string',
    tier: 'plain',
    kind: 'string-inverter',
    count: 1,
    lifeYears: 17,
    shape: 2.1,
    upfront: 6900,
    bill: 1550,
    outageKwh: 640,
    designKwh: 2900,
    coverYears: 5,
  },
  {
    id: 'B',
    name: 'Robust string inverter',
    topology: 'string',
    tier: 'robust',
    kind: 'string-inverter',
    count: 1,
    lifeYears: 24,
    shape: 2.1,
    upfront: 7150,
    bill: 1700,
    outageKwh: 390,
    designKwh: 2600,
    coverYears: 12,
  },
  {
    id: 'C',
    name: 'Panel-level units',
    topology: 'panel-level',
    tier: null,
    kind: 'panel-level-unit',
    count: 20,
    lifeYears: 130,
    shape: 1.4,
    upfront: 9400,
    bill: 420,
    outageKwh: 310,
    designKwh: 900,
    coverYears: 20,
  },
  {
    id: 'D',
    name: 'Hybrid',
    topology: 'hybrid',
    tier: null,
    kind: 'hybrid-inverter',
    count: 1,
    lifeYears: 14.5,
    shape: 2.1,
    upfront: 11800,
    bill: 2600,
    outageKwh: 910,
    designKwh: 3000,
    coverYears: 10,
    paid: { batteryOutage: 71, warranty: 320 },
  },
]

function at<T>(items: readonly T[], index: number): T {
  const item = items[index]
  if (item === undefined) throw new Error(`the fixture has no item ${index}`)
  return item
}

/** Four options on a home roof; B is the dearer that probably pays back. */
export function homeResults(): Results {
  const options = SKETCHES.map(sketched)
  const [a, b, c, d] = [at(options, 0), at(options, 1), at(options, 2), at(options, 3)]
  return {
    tool: { name: 'lifetally', version: '0.1.0' },
    scenario: { title: 'Alder Row, 6.6 kW, four quotes', currency: 'EUR', horizonYears: YEARS, discountRate: 0.04 },
    seed: 1,
    draws: 20000,
    blocks: 20,
    parameterSets: 1000,
    inputs: inputsOf(options),
    options,
    comparisons: [
      pairOf(b, a, {
        verdict: 'probably pays back',
        withTierEffect0: { meanDifference: 95, standardError: 13, breakEvenPremium: 155 },
      }),
      pairOf(c, a, { verdict: 'does not pay back', chanceBetterOnAverage: 0.02 }),
      pairOf(d, a, { verdict: 'does not pay back', chanceBetterOnAverage: 0 }),
      pairOf(c, b, { verdict: 'does not pay back', chanceBetterOnAverage: 0.01 }),
      pairOf(d, b, { verdict: 'does not pay back', chanceBetterOnAverage: 0 }),
      pairOf(d, c, { verdict: 'probably does not pay back', chanceBetterOnAverage: 0.06 }),
    ],
    roof: null,
    warrantySweep: [
      sweepOf(a, [
        {
          component: 'string-inverter',
          years: 10,
          labourYears: 2,
          price: 320,
          worth: 214,
          worthIfProviderStays: 262,
          standardError: 5,
          taken: false,
          verdict: 'not worth its price',
        },
      ]),
      sweepOf(b, []),
      sweepOf(c, []),
      sweepOf(d, [
        {
          component: 'hybrid-inverter',
          years: 15,
          labourYears: 10,
          price: 320,
          worth: 690,
          worthIfProviderStays: 840,
          standardError: 11,
          taken: true,
          verdict: 'worth its price',
        },
      ]),
    ],
    switchPoints: [
      {
        input: 'labour for a repair (string inverter)',
        option: null,
        unit: 'EUR',
        present: 260,
        value: 84,
        low: 60,
        high: 780,
        differenceThere: 6,
        standardError: 13,
      },
      {
        input: 'call-out',
        option: null,
        unit: 'EUR',
        present: 140,
        value: null,
        low: 70,
        high: 280,
        differenceThere: null,
        standardError: null,
      },
      {
        input: 'import price',
        option: null,
        unit: 'EUR per kWh',
        present: 0.31,
        value: null,
        low: 0.22,
        high: 0.43,
        differenceThere: null,
        standardError: null,
      },
      {
        input: 'parts cover',
        option: 'B',
        unit: 'years',
        present: 12,
        value: 4,
        low: 0,
        high: 25,
        differenceThere: -9,
        standardError: 12,
      },
      {
        input: 'tier effect',
        option: null,
        unit: '',
        present: 1,
        value: 0.31,
        low: 0,
        high: 2,
        differenceThere: 4,
        standardError: 13,
      },
      {
        input: 'discount rate',
        option: null,
        unit: 'share per year',
        present: 0.04,
        value: 0.079,
        low: 0,
        high: 0.09,
        differenceThere: 2,
        standardError: 12,
      },
    ],
    swings: [
      {
        input: 'tier effect',
        option: null,
        unit: '',
        low: 0.2,
        high: 1.8,
        costAtLow: 8590,
        costAtHigh: 8210,
        differenceAtLow: -60,
        differenceAtHigh: 560,
      },
      {
        input: 'product model (Robust string inverter)',
        option: 'B',
        unit: '',
        low: 0.42,
        high: 1.67,
        costAtLow: 8120,
        costAtHigh: 8690,
        differenceAtLow: 510,
        differenceAtHigh: -70,
      },
      {
        input: 'product model (Plain string inverter)',
        option: 'A',
        unit: '',
        low: 0.42,
        high: 1.67,
        costAtLow: 8400,
        costAtHigh: 8400,
        differenceAtLow: -130,
        differenceAtHigh: 610,
      },
      {
        input: 'parts for a repair (Plain string inverter)',
        option: 'A',
        unit: 'EUR',
        low: 900,
        high: 1400,
        costAtLow: 8400,
        costAtHigh: 8400,
        differenceAtLow: 140,
        differenceAtHigh: 420,
      },
      {
        input: 'how failures grow with age (string inverter)',
        option: null,
        unit: '',
        low: 1.5,
        high: 3.2,
        costAtLow: 8310,
        costAtHigh: 8440,
        differenceAtLow: 220,
        differenceAtHigh: 330,
      },
      {
        input: 'rate at which makers leave',
        option: null,
        unit: 'share per year',
        low: 0.01,
        high: 0.08,
        costAtLow: 8360,
        costAtHigh: 8480,
        differenceAtLow: 330,
        differenceAtHigh: 205,
      },
      {
        input: 'import price',
        option: null,
        unit: 'EUR per kWh',
        low: 0.26,
        high: 0.38,
        costAtLow: 8380,
        costAtHigh: 8430,
        differenceAtLow: 268,
        differenceAtHigh: 294,
      },
    ],
    drivers: [
      { input: 'product model (Plain string inverter)', share: 0.36 },
      { input: 'product model (Robust string inverter)', share: 0.27 },
      { input: 'tier effect', share: 0.22 },
      { input: 'others', share: 0.15 },
    ],
    notes: [
      {
        code: 'battery-value',
        option: 'D',
        text: 'The battery is worth about EUR 4,900 today by your own figure; set it against the difference to the options without one.',
      },
      { code: 'survivors', option: null, text: 'Survivors are not counted as evidence; use fit.' },
    ],
  }
}

/** One option, nothing ±, nothing ever fails: every figure that can be null is. */
export function quietResults(): Results {
  const home = homeResults()
  const a = at(home.options, 0)
  const zeros = Array.from({ length: YEARS }, () => 0)
  const none = { mean: 0, standardError: 0, exactMean: 0, comparedMean: 0, zScore: null }
  const costs = { ...a.costs, parts: 0, labour: 0, visits: 0, outageEnergy: 0, designEnergy: 0 }
  const upfront = costs.upfront
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
    },
    costs,
    costStandardErrors: { ...a.costStandardErrors, parts: 0, labour: 0, visits: 0, outageEnergy: 0 },
    surcharges: 0,
    paidByCover: null,
    totals: { acquisition: upfront, ownership: 0, withoutLostEnergy: upfront },
    visitShares: { none: 1, one: 0, twoOrMore: 0 },
    billYears10To15: { p90: 0 },
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
        plannedReplacements: { mean: 0 },
      },
    ],
    visits: { mean: 0, standardError: 0 },
    downtimeDays: { mean: 0 },
    availability: { timeBased: 1, energyWeighted: null },
    energy: {
      idealKwh: 0,
      designLossKwh: { clipping: 0, shadeAndMismatch: 0, conversion: 0, exportLimit: 0 },
      outageLossKwh: { mean: 0, standardError: 0, p90: 0 },
      deliveredKwh: 0,
      costPerDeliveredKwh: null,
      idealByMonthKwh: Array.from({ length: 12 }, () => 0),
      deliveredByMonthKwh: Array.from({ length: 12 }, () => 0),
    },
    outOfPocket: { mean: 0, standardError: 0 },
    cashByYear: { mean: zeros },
    cumulativeCash: { p50: zeros, p80: zeros, p90: zeros, p95: zeros },
    largestYear: { p50: 0, p90: 0 },
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
    coverByYear: { paper: zeros.map(() => null), effective: zeros.map(() => null) },
    replacementAge: null,
    waitingPolicy: null,
    variance: { chanceShare: null, unknownShare: null },
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
    notes: [],
  }
}

/** Two options that cannot be told apart. */
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
