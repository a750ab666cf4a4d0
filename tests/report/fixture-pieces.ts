/**
 * Invented results other than the options: plausible figures that no run produced. Nothing in them is a finding.
 */
import type { Comparison } from '../../src/analysis/results/comparison.ts'
import type { OptionResult } from '../../src/analysis/results/option.ts'
import type { WarrantySweep } from '../../src/analysis/results/what-if.ts'
import type { Assumption, Known } from '../../src/scenario/model/assumption.ts'
import { YEARS } from './fixture-option.ts'

/** A pair with its figures worked out from the two options. */
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
    batteryWouldHaveToEarnPerDay: null,
    batteryEarnsPerDay: null,
    varianceShares: { chanceShare: 0.58, unknownShare: 0.42, judgementShare: 0.71 },
    verdictGrade: null,
    turnedBy: [],
    wideRun: null,
    withTierEffect0: null,
    withTierEffect0AndSpareAlike: null,
    ...given,
  }
}

/** A warranty sweep that falls as one would. */
export function sweepOf(option: OptionResult, offers: WarrantySweep['offers']): WarrantySweep {
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
    otherComponents: [],
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
  return {
    key,
    value,
    low: range?.[0] ?? null,
    high: range?.[1] ?? null,
    unit,
    source,
    known,
    weakest: known === 'yours' ? null : 'invented',
  }
}

const BUCHER = 'Bucher, Wandel and Joss 2022, Life expectancy of PV inverters and optimizers in residential PV systems'
const OURS = 'judgement of this program; no source carries this number'

/** Assumptions of every grade. */
export function inputsOf(options: readonly OptionResult[]): Assumption[] {
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
