import { readdirSync } from 'node:fs'
import { join } from 'node:path'
import { expect, test } from 'vitest'
import { estimate } from '../src/analysis/estimate.ts'
import { resultsJson } from '../src/report/write-json.ts'
import { loadScenario } from '../src/scenario/read-scenario.ts'
import { localRunner } from '../src/simulation/run.ts'

/** The keys of results.json as the contract lists them (design section 7); […] stands for the entries of a list. */
const KEYS =
  `tool.name tool.version scenario.title scenario.currency scenario.horizonYears scenario.discountRate seed draws blocks parameterSets
inputs[].key inputs[].value inputs[].low inputs[].high inputs[].unit inputs[].source inputs[].known
notes[].code notes[].text notes[].option
comparisons[].option comparisons[].against comparisons[].meanDifference comparisons[].standardError comparisons[].interval90 comparisons[].chanceBetterOnAverage
comparisons[].chanceCheaper comparisons[].breakEvenPremium comparisons[].breakEvenInterval90 comparisons[].verdict comparisons[].aheadFromYear
comparisons[].varianceShares.chanceShare comparisons[].varianceShares.unknownShare comparisons[].withTierEffect0
warrantySweep[].option warrantySweep[].component warrantySweep[].years warrantySweep[].outOfPocketMean warrantySweep[].outOfPocketIfProviderStays
warrantySweep[].worth warrantySweep[].offers
switchPoints[].input switchPoints[].option switchPoints[].value switchPoints[].low switchPoints[].high switchPoints[].differenceThere switchPoints[].standardError
swings[].input swings[].option swings[].low swings[].high swings[].costAtLow swings[].costAtHigh swings[].differenceAtLow swings[].differenceAtHigh
drivers[].input drivers[].share`.split(/\s+/)

const OPTION_KEYS =
  `id name topology lifetimeCost.mean lifetimeCost.standardError lifetimeCost.p5 lifetimeCost.p10 lifetimeCost.p50 lifetimeCost.p90 lifetimeCost.p95 lifetimeCost.worstTenthMean
costs.upfront costs.yearly costs.parts costs.labour costs.visits costs.warranty costs.outageEnergy costs.designEnergy costs.batteryOutage costs.residual
costStandardErrors.upfront costStandardErrors.yearly costStandardErrors.parts costStandardErrors.labour costStandardErrors.visits costStandardErrors.warranty
costStandardErrors.outageEnergy costStandardErrors.designEnergy costStandardErrors.batteryOutage costStandardErrors.residual
surcharges totals.acquisition totals.ownership totals.withoutLostEnergy visitShares.none visitShares.one visitShares.twoOrMore billYears10To15.p90 withStraightLine.mean
failures.mean failures.standardError failures.exactMean failures.zScore failures.atLeastOneByYear failuresByYear
populations[].kind populations[].count populations[].checked populations[].failures.mean populations[].failures.standardError populations[].failures.exactMean
populations[].failures.zScore populations[].firstFailures populations[].plannedReplacements.mean
visits.mean visits.standardError downtimeDays.mean availability.timeBased availability.energyWeighted daysWithoutBackup
energy.idealKwh energy.designLossKwh.clipping energy.designLossKwh.shadeAndMismatch energy.designLossKwh.conversion energy.designLossKwh.exportLimit
energy.outageLossKwh.mean energy.outageLossKwh.standardError energy.outageLossKwh.p90 energy.deliveredKwh energy.costPerDeliveredKwh energy.idealByMonthKwh energy.deliveredByMonthKwh
outOfPocket.mean outOfPocket.standardError cashByYear.mean cumulativeCash.p50 cumulativeCash.p80 cumulativeCash.p90 cumulativeCash.p95 largestYear.p50 largestYear.p90
reserve.confidence reserve.contributionAt.50 reserve.contributionAt.80 reserve.contributionAt.90 reserve.contributionPerYear reserve.contributionPerMonth reserve.chanceShort
reserve.meanShortfall reserve.firstShortYear reserve.fullyFundedBalance reserve.percentFunded reserve.readyAhead reserve.fixedInMoney
balanceByYear.p10 balanceByYear.p50 balanceByYear.p90 coverByYear.paper coverByYear.effective replacementAge waitingPolicy variance.chanceShare variance.unknownShare`
    .split(/\s+/)
    .map(key => `options[].${key}`)

/** Paths of a value that lead nowhere. */
function missing(value: unknown, path: readonly string[]): boolean {
  const [key, ...rest] = path
  if (key === undefined) return value === undefined
  if (typeof value !== 'object' || value === null) return true
  const name = key.replace('[]', '')
  const inner: unknown = Object.hasOwn(value, name) ? (value as Record<string, unknown>)[name] : undefined
  if (!key.endsWith('[]')) return missing(inner, rest)
  return !Array.isArray(inner) || inner.length === 0 || inner.some(entry => missing(entry, rest))
}

test.each(readdirSync('examples').filter(name => name.endsWith('.yaml') && !name.includes('fleet')))(
  '%s: runs, and results.json holds every key of the contract, finite throughout',
  async name => {
    const scenario = await loadScenario(join('examples', name))
    const results = await estimate(
      scenario,
      { draws: 400, seed: 1, precision: null, tool: { name: 'lifetally', version: '0' } },
      variants => ({ run: localRunner(variants), close: async () => {} }),
      () => {},
    )
    const written: unknown = JSON.parse(resultsJson(results))
    // an example with one option has no pairs
    const keys = [...KEYS, ...OPTION_KEYS].filter(
      key => results.options.length > 1 || !/^(comparisons|switchPoints)/.test(key),
    )
    expect(keys.filter(key => missing(written, key.split('.')))).toEqual([])
    const years = results.scenario.horizonYears
    for (const option of results.options) {
      expect(option.failures.atLeastOneByYear).toHaveLength(years + 1)
      expect(option.failures.atLeastOneByYear[0]).toBe(0)
      for (const list of [
        option.failuresByYear,
        option.cashByYear.mean,
        option.cumulativeCash.p90,
        option.balanceByYear.p50,
        option.coverByYear.paper,
        option.reserve.readyAhead,
      ])
        expect(list).toHaveLength(years)
      const sum = Object.values(option.costs).reduce((total, line) => total + line, 0)
      expect(sum / option.lifetimeCost.mean).toBeCloseTo(1, 9)
      const { energy } = option
      const lost = Object.values(energy.designLossKwh).reduce((total, kwh) => total + kwh, energy.outageLossKwh.mean)
      expect((energy.deliveredKwh + lost) / energy.idealKwh).toBeCloseTo(1, 9)
      for (const { failures, firstFailures } of option.populations)
        for (const { zScore } of [failures, firstFailures]) expect(Math.abs(zScore ?? 0)).toBeLessThan(4.5)
    }
  },
)
