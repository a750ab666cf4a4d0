import type { DesignLoss } from '../../energy/option-energy.ts'
import { COST_LINE_NAMES, COST_LINES, type CostLine, type LinesFrom, sumOfLines } from '../../ledger/cost-lines.ts'
import { designEnergyByYear } from '../../ledger/design-energy.ts'
import { FixedCosts } from '../../ledger/fixed-costs.ts'
import { energySupply, type OptionTerms } from '../../ledger/terms.ts'
import { power } from '../../numerics/power.ts'
import { quantiles } from '../../numerics/samples/quantile.ts'
import { sumOf } from '../../numerics/sum.ts'
import { LEAST_YEAR_KWH } from '../../scenario/least-energy.ts'
import type { OptionPlan } from '../../simulation/option-plan.ts'
import { middleSet } from '../../simulation/parameter-sets.ts'
import { type FailureEffect, FIRST_BY_EFFECT } from '../../simulation/sums/failure-effects.ts'
import { DAYS_PER_YEAR, MONTHS_PER_YEAR } from '../../units.ts'
import { jobOf } from '../comparison/same-job.ts'
import { reserveOf } from '../reserve/reserve.ts'
import type { CostLines, OptionResult } from '../results/option.ts'
import { type CheckedSet, populationResults, wholeOption } from '../self-check/checked-counts.ts'
import { coverShares } from '../warranty/cover-shares.ts'
import type { OptionRun } from './option-run.ts'
import { quantileErrors, worstTenth } from './quantile-errors.ts'
import { splitVariance, varianceShares } from './variance-split.ts'

/** Everything of an option's result that needs no further run. */
export type PlainOptionResult = Omit<OptionResult, 'replacementAge' | 'waitingPolicy' | 'countedAlike' | 'variance'> & {
  readonly variance: Omit<OptionResult['variance'], 'judgementShare'>
}

/**
 * The result of one option from its draws.
 *
 * @param plan - the option
 * @param run - its draws
 * @param drawsPerSet - draws that share a parameter set
 * @param checked - the parameter sets of the self-check (X1)
 */
export function optionResult(
  plan: OptionPlan,
  run: OptionRun,
  drawsPerSet: number,
  checked: readonly CheckedSet[],
): PlainOptionResult {
  const { option, scenario } = plan
  const { draws, layout } = run
  const years = scenario.horizonYears
  const middle = plan.at(middleSet(scenario.unknowns.length))
  const meanByYear = (sums: Float64Array): number[] => Array.from(sums, sum => sum / draws.draws)
  const cash = run.meanByYear('cash')
  const { costs, costStandardErrors } = costLines(plan, run, middle.terms)
  const acquisition = sumOfLines(costs, line => line.acquisition)
  const lostEnergy = sumOfLines(costs, line => line.energy)
  const mean = run.mean(layout.of('lifetimeCost'))
  const withoutLostEnergy = mean - lostEnergy
  const populations = populationResults(plan, run, checked)
  const downShare = run.mean(layout.of('downYears')) / years
  const residual = run.mean(layout.of('residual'))
  const { reserve, cumulativeCash, balanceByYear } = reserveOf(draws, scenario, middle.terms, cash)
  return {
    id: option.id,
    name: option.name,
    topology: option.topology,
    batteryWorth: jobOf(option).battery,
    laterPurchases: jobOf(option).later,
    lifetimeCost: costSpread(run, drawsPerSet),
    costs,
    costStandardErrors,
    surcharges: run.mean(layout.of('surcharges')),
    paidByCover: {
      parts: run.mean(layout.of('coveredParts')),
      labour: run.mean(layout.of('coveredLabour')),
      visits: run.mean(layout.of('coveredVisits')),
    },
    paidByCoverStandardError: COVERED_LINES.reduce((sum, line) => sum + run.standardError(layout.of(line)), 0),
    totals: { acquisition, ownership: mean - acquisition, withoutLostEnergy },
    visitShares: {
      none: (draws.visitCounts[0] ?? 0) / draws.draws,
      one: (draws.visitCounts[1] ?? 0) / draws.draws,
      twoOrMore: (draws.visitCounts[2] ?? 0) / draws.draws,
    },
    noVisitStandardError: run.standardError(layout.of('noVisit')),
    billYears10To15: percentilesOf(run, draws.bill10To15, drawsPerSet, { p90: 0.9 }),
    withStraightLine: { mean: scenario.residualValue === 'straight-line' ? mean : mean - residual },
    failures: {
      ...wholeOption(run, populations, checked),
      atLeastOneByYear: runningShare(draws.byYear.firstFailed, draws.draws),
    },
    failuresByEffect: byEffect(run),
    failuresByYear: meanByYear(draws.byYear.failures),
    populations: populations.map(({ result }) => result),
    visits: run.estimate(layout.of('nVisits')),
    visitsInAll: { mean: run.mean(layout.of('nVisitsInAll')) },
    downtimeDays: { mean: DAYS_PER_YEAR * years * downShare },
    availability: { timeBased: 1 - downShare, energyWeighted: energyWeighted(plan, run) },
    daysWithoutBackup: option.battery?.backup ? DAYS_PER_YEAR * run.mean(layout.of('backupDownYears')) : null,
    energy: energyOf(plan, run, withoutLostEnergy, drawsPerSet),
    outOfPocket: run.estimate(layout.of('outOfPocket')),
    cashByYear: { mean: cash },
    cumulativeCash,
    largestYear: percentilesOf(run, draws.largestYear, drawsPerSet, { p50: 0.5, p90: 0.9 }),
    reserve,
    balanceByYear,
    ...coverShares(draws.byYear, option, years),
    variance: varianceShares(splitVariance(draws.lifetimeCost, drawsPerSet)),
  }
}

/** What covers pay (W4). */
const COVERED_LINES = ['coveredParts', 'coveredLabour', 'coveredVisits'] as const

function costSpread(run: OptionRun, drawsPerSet: number): OptionResult['lifetimeCost'] {
  const costs = run.draws.lifetimeCost
  const tenth = worstTenth(costs, drawsPerSet, run.oneSet)
  const { standardErrors, ...percentiles } = percentilesOf(run, costs, drawsPerSet, {
    p5: 0.05,
    p10: 0.1,
    p50: 0.5,
    p90: 0.9,
    p95: 0.95,
  })
  return {
    ...run.estimate(run.layout.of('lifetimeCost')),
    ...percentiles,
    worstTenthMean: tenth.mean,
    standardErrors: { ...standardErrors, worstTenthMean: tenth.standardError },
  }
}

/** Percentiles of a figure by name, each with its standard error (X2). */
function percentilesOf<Name extends string>(
  run: OptionRun,
  values: Float64Array,
  drawsPerSet: number,
  shares: Readonly<Record<Name, number>>,
): Record<Name, number> & { readonly standardErrors: Record<Name, number> } {
  const names = Object.keys(shares) as Name[] // as typed
  const ps = names.map(name => shares[name])
  const byName = (figures: readonly number[]) =>
    // every name has a figure
    Object.fromEntries(names.map((name, place) => [name, figures[place] ?? 0])) as Record<Name, number>
  return {
    ...byName(quantiles(values, ps)),
    standardErrors: byName(quantileErrors(values, ps, drawsPerSet, run.oneSet)),
  }
}

/** C7: the amount of each line, income negative, and its standard error. */
function costLines(
  plan: OptionPlan,
  run: OptionRun,
  terms: OptionTerms,
): Record<'costs' | 'costStandardErrors', CostLines> {
  const fixed = new FixedCosts(terms, plan.supply)
  const valued = plan.scenario.residualValue === 'straight-line'
  const costs: Partial<Record<CostLine, number>> = {}
  const errors: Partial<Record<CostLine, number>> = {}
  for (const line of COST_LINE_NAMES) {
    const counts = COST_LINES[line].from !== 'horizon' || valued
    const { mean, standardError } = isPurchase(line)
      ? { mean: fixed.lines[line], standardError: 0 }
      : run.estimate(run.layout.of(line))
    // not -0
    costs[line] = counts ? (COST_LINES[line].sign > 0 ? mean : 0 - mean) : 0
    errors[line] = counts ? standardError : 0
  }
  // every line has been filled
  return { costs: costs as CostLines, costStandardErrors: errors as CostLines }
}

function isPurchase(line: CostLine): line is LinesFrom<'purchase'> {
  return COST_LINES[line].from === 'purchase'
}

function energyOf(
  plan: OptionPlan,
  run: OptionRun,
  withoutLostEnergy: number,
  drawsPerSet: number,
): OptionResult['energy'] {
  const { supply, scenario } = plan
  const { draws, layout } = run
  const lost = run.estimate(layout.of('lostKwh'))
  const idealKwh = sumOf(supply.idealKwh)
  const deliverableKwh = sumOf(supply.deliverableKwh)
  const idealByMonthKwh = new Float64Array(MONTHS_PER_YEAR)
  const deliveredByMonthKwh = Float64Array.from(run.lostByMonth(), lost => -lost)
  const discount = 1 + scenario.discountRate
  let discountedKwh = 0
  supply.idealKwh.forEach((ideal, i) => {
    const month = i % MONTHS_PER_YEAR
    const calendarMonth = supply.calendarMonth[month] ?? 0
    const deliverable = supply.deliverableKwh[i] ?? 0
    idealByMonthKwh[calendarMonth] = (idealByMonthKwh[calendarMonth] ?? 0) + ideal
    deliveredByMonthKwh[calendarMonth] = (deliveredByMonthKwh[calendarMonth] ?? 0) + deliverable
    const middle = ((supply.monthStart[month] ?? 0) + (supply.monthStart[month + 1] ?? 0)) / 2
    discountedKwh += deliverable * power(discount, -(Math.floor(i / MONTHS_PER_YEAR) + middle))
  })
  const discountedDelivered = discountedKwh - run.mean(layout.of('lostKwhDiscounted'))
  return {
    idealKwh,
    designLossKwh: {
      clipping: sumOf(supply.designLossKwh.clipping),
      shadeAndMismatch: sumOf(supply.designLossKwh.shadeAndMismatch),
      conversion: sumOf(supply.designLossKwh.conversion),
      exportLimit: sumOf(supply.designLossKwh.exportLimit),
    },
    clippingValue: clippingValue(plan),
    outageLossKwh: { ...lost, ...percentilesOf(run, draws.lostKwh, drawsPerSet, { p90: 0.9 }) },
    deliveredKwh: deliverableKwh - lost.mean,
    // the remainder after an outage of the whole horizon, or on a roof without light, is rounding, not energy (N4)
    costPerDeliveredKwh:
      plan.option.battery === null && discountedDelivered > Math.max(1e-9 * discountedKwh, LEAST_YEAR_KWH)
        ? withoutLostEnergy / discountedDelivered
        : null,
    idealByMonthKwh: Array.from(idealByMonthKwh),
    deliveredByMonthKwh: Array.from(deliveredByMonthKwh),
  }
}

/** What the clipped energy alone is worth, everything at its middle. */
function clippingValue(plan: OptionPlan): number {
  const { supply, scenario } = plan
  const { terms } = plan.at(middleSet(scenario.unknowns.length))
  const none = new Float64Array(supply.idealKwh.length)
  const only = <T extends Float64Array>(losses: Readonly<Record<DesignLoss, T>>): Record<DesignLoss, Float64Array> => ({
    clipping: losses.clipping,
    shadeAndMismatch: none,
    conversion: none,
    exportLimit: none,
  })
  const clipped = energySupply({
    ...supply,
    designLossKwh: only(supply.designLossKwh),
    designLossSelfUsedKwh: supply.designLossSelfUsedKwh && only(supply.designLossSelfUsedKwh),
    designLossUnpaidKwh: supply.designLossUnpaidKwh && only(supply.designLossUnpaidKwh),
  })
  return sumOf(designEnergyByYear(clipped, terms.energy, terms.discount.rate, terms.horizonYears))
}

/** O5: delivered / (delivered + outage loss). */
function energyWeighted(plan: OptionPlan, run: OptionRun): number | null {
  const deliverable = sumOf(plan.supply.deliverableKwh)
  return deliverable === 0 ? null : 1 - run.mean(run.layout.of('lostKwh')) / deliverable
}

/** Failures by what they stop, each with the share of draws in which one has happened. */
function byEffect(run: OptionRun): OptionResult['failuresByEffect'] {
  const { draws, layout } = run
  const of = (effect: FailureEffect): OptionResult['failuresByEffect']['stopEnergy'] => ({
    ...run.estimate(layout.of(effect)),
    atLeastOneByYear: runningShare(draws.byYear[FIRST_BY_EFFECT[effect]], draws.draws),
  })
  return { stopEnergy: of('stopEnergy'), monitoringOnly: of('monitoringOnly'), batteryOnly: of('batteryOnly') }
}

/** Share of draws by the start of each year and by the horizon: horizonYears + 1 values, the first 0. */
function runningShare(counts: Float64Array, draws: number): number[] {
  const shares = [0]
  let sum = 0
  for (const count of counts) {
    sum += count
    shares.push(sum / draws)
  }
  return shares
}
