import type { OptionResult } from '../../src/analysis/results/option.ts'
import type { Results } from '../../src/analysis/results.ts'
import { renderReport } from '../../src/report/estimate/render-estimate.ts'
import { formatNumber, roundingStep } from '../../src/report/format/number.ts'
import { needWhole } from './play-case.ts'

/** Rounding of sums over lifetimes, as a share of the largest part; ours. */
const ROUNDING = 1e-8

/**
 * What holds for every run, whatever the scenario (C7, O5, X2, V1).
 *
 * @param results - of a run
 * @returns what does not hold, in words; empty where all does
 */
export function broken(results: Results): string[] {
  return [...results.options.flatMap(ofOption), ...results.warrantySweep.flatMap(sweepRises(results))]
}

function ofOption(option: OptionResult): string[] {
  const { costs, lifetimeCost, totals, energy, failures, failuresByYear, cashByYear, visitShares } = option
  const found: string[] = []
  const equal = (told: string, value: number, expected: number, scale: number): void => {
    if (!(Math.abs(value - expected) <= ROUNDING * scale)) found.push(`${option.id} ${told}: ${value}, not ${expected}`)
  }
  const rising = (told: string, values: readonly number[], scale: number): void => {
    values.forEach((value, i) => {
      if (value < (values[i - 1] ?? value) - ROUNDING * scale) found.push(`${option.id} ${told} falls: ${values}`)
    })
  }
  const money = sum(Object.values(costs).map(Math.abs))
  equal('C7 lines of cost', sum(Object.values(costs)), lifetimeCost.mean, money)
  equal('C7 acquisition and ownership', totals.acquisition + totals.ownership, lifetimeCost.mean, money)
  const { p5, p10, p50, p90, p95, worstTenthMean } = lifetimeCost
  rising('percentiles', [p5, p10, p50, p90, p95], money)
  rising('dearest tenth', [p90, worstTenthMean], money)
  const lost = energy.outageLossKwh.mean + sum(Object.values(energy.designLossKwh))
  equal('O5 energy', energy.deliveredKwh + lost, energy.idealKwh, energy.idealKwh)
  equal('O5 months', sum(energy.deliveredByMonthKwh), energy.deliveredKwh, energy.idealKwh)
  equal('failures by year', sum(failuresByYear), failures.mean, 1 + failures.mean)
  equal(
    'failures by population',
    sum(option.populations.map(one => one.failures.mean)),
    failures.mean,
    1 + failures.mean,
  )
  equal('shares of visits', visitShares.none + visitShares.one + visitShares.twoOrMore, 1, 1)
  rising('at least one failure', failures.atLeastOneByYear, 1)
  const { p50: half, p80, p90: nine, p95: most } = option.cumulativeCash
  half.forEach((value, year) => {
    rising(`cash to year ${year}`, [value, p80[year] ?? 0, nine[year] ?? 0, most[year] ?? 0], sum(cashByYear.mean))
  })
  for (const share of [option.availability.timeBased, option.availability.energyWeighted ?? 0])
    if (share < -ROUNDING || share > 1 + ROUNDING) found.push(`${option.id} availability ${share}`)
  const errors = [
    lifetimeCost.standardError,
    ...Object.values(option.costStandardErrors),
    ...Object.values(lifetimeCost.standardErrors),
  ]
  for (const error of errors) if (!(error >= 0)) found.push(`${option.id} standard error ${error}`)
  return found
}

/** V1: under the same histories more years of cover never cost the owner more. */
function sweepRises(results: Results): (sweep: Results['warrantySweep'][number]) => string[] {
  return ({ option, outOfPocketMean }) => {
    const name = results.options.find(({ id }) => id === option)?.name
    const cover = results.inputs.find(
      ({ key }) => key.startsWith(`${name} / `) && key.endsWith('warranty.replacement_cover'),
    )
    // there a covered replacement brings no new cover, a paid one does
    if (cover === undefined || cover.value === 'new-if-bought') return []
    const scale = ROUNDING * Math.max(...outOfPocketMean)
    return outOfPocketMean.flatMap((paid, i) =>
      paid > (outOfPocketMean[i - 1] ?? paid) + scale ? [`V1 ${option}: ${outOfPocketMean}`] : [],
    )
  }
}

/**
 * The report of a run: whole, and with the percentiles that results.json has.
 *
 * @param results - of a run
 * @param given - the scenario as text
 * @returns the page
 * @throws Error where a figure is broken or not the one of the results
 */
export function reportOf(results: Results, given: string): string {
  const page = renderReport(results, { audience: 'retailer', command: 'lifetally estimate edges.yaml' })
  needWhole(page.replace(/<style>.*?<\/style>/gs, ''), given)
  for (const { lifetimeCost, id } of results.options)
    for (const name of ['p5', 'p90', 'worstTenthMean'] as const) {
      const value = lifetimeCost[name]
      const said = formatNumber(value, roundingStep(value, lifetimeCost.standardErrors[name], 1))
      if (!page.includes(`>${said}<`)) throw new Error(`${id}: ${name} is ${value}, and the report has no ${said}`)
    }
  return page
}

function sum(values: readonly number[]): number {
  return values.reduce((total, value) => total + value, 0)
}
