import { FitError } from '../errors.ts'
import { compareGroups } from './checks/compare-groups.ts'
import { type GroupTest, logRank } from './checks/log-rank.ts'
import { groupWarnings, recordWarnings } from './checks/warnings.ts'
import { oneIn } from './choose-model.ts'
import { BOUND_CONFIDENCE, type FittedGroup, fitGroup } from './fit-group.ts'
import type { FitResult, GroupResult, TestResult } from './fit-result.ts'
import type { FitSettings } from './fit-settings.ts'
import type { Addition } from './likelihood/fit-model.ts'
import { priorAddition } from './likelihood/prior.ts'
import type { Records } from './records/read-records.ts'

/**
 * All results from field records.
 *
 * @param records - from `readRecords`
 * @param settings - see `FitSettings`
 * @returns fit.json
 * @throws FitError where no group can be fitted; its message says what to check and which bounds the records give
 */
export function fitRecords(records: Records, settings: FitSettings): FitResult {
  const prior: Addition | undefined = settings.prior === null ? undefined : priorAddition(settings.prior)
  const fitted = records.groups.map(group =>
    fitGroup(group, {
      ageUnit: settings.ageUnit,
      seed: settings.seed,
      shape: settings.shape,
      prior,
      batches: records.batches,
    }),
  )
  const groups = fitted.map(({ result }) => result)
  if (groups.every(group => group.best === null)) throw new FitError(refusal(groups, settings))
  return {
    tool: settings.tool,
    records: settings.file,
    ageUnit: settings.ageUnit,
    seed: settings.seed,
    rows: { read: records.nLines, leftOut: records.nSkipped },
    ownerFiles: settings.made?.result ?? null,
    prior: settings.prior,
    groups,
    tests: testsOf(fitted, settings),
    warnings: [
      ...(settings.made?.warnings ?? []),
      ...recordWarnings(records),
      ...groups.flatMap((group, i) => groupWarnings(group, records.groups[i], fitted[i]?.fit ?? null, settings)),
    ],
  }
}

function testsOf(fitted: readonly FittedGroup[], settings: FitSettings): TestResult[] {
  const compared = fitted.filter(({ result }) => result.failed > 0)
  if (compared.length < 2) return []
  const names = compared.map(({ result }) => result.name)
  const rows = compared.map(({ data }) => data.coarse)
  const tests: TestResult[] = []
  const add = (name: TestResult['name'], test: GroupTest | null, alike: string, apart: string): void => {
    if (test === null) return
    const verdict = test.pValue < 0.05 ? apart : alike
    tests.push({
      name,
      groups: names,
      ...test,
      said: `${verdict}: chance alone would give so large a difference ${oneIn(test.pValue)}.`,
    })
  }
  const exact = fitted.every(({ result }) => result.failedBetween === 0)
  if (exact) {
    add(
      'log-rank',
      logRank(rows),
      'Without assuming any curve, the groups cannot be distinguished',
      'Without assuming any curve, the groups fail differently',
    )
  }
  const comparison = settings.shape === null && settings.prior === null ? compareGroups(rows, settings.ageUnit) : null
  if (comparison !== null) {
    add(
      'likelihood-ratio-curve',
      comparison.sameCurve,
      'One Weibull curve would do for all groups',
      'The groups need Weibull curves of their own',
    )
    add(
      'likelihood-ratio-shape',
      comparison.sameShape,
      `The groups may share one shape, ${comparison.commonShape.toFixed(2)}`,
      'The groups age in different ways',
    )
  }
  return tests
}

function refusal(groups: readonly GroupResult[], settings: FitSettings): string {
  const units = groups.reduce((sum, group) => sum + group.units, 0)
  const failed = groups.reduce((sum, group) => sum + group.failed, 0)
  const lines = groups.slice(0, 10).flatMap(group => {
    const name = groups.length === 1 ? '' : `${group.name}: `
    const bounds = group.lifeBounds
      .filter(bound => bound.characteristicLife > 0)
      .map(
        bound =>
          `  ${name}with shape ${bound.shape}, the characteristic life is over ${bound.characteristicLife.toPrecision(3)} ${settings.ageUnit}`,
      )
    return failed === 0 || bounds.length === 0 ? bounds : [`  ${name}${group.choice}`, ...bounds]
  })
  const head =
    failed === 0
      ? `${settings.file}: none of the ${units} units has failed, so no failure curve can be estimated.`
      : `${settings.file}: no failure curve can be estimated from ${failed} ${failed === 1 ? 'failure' : 'failures'} among ${units} units.\nCheck first whether there are too few failures, then whether all have one age, then whether --age-unit ${settings.ageUnit} is right.`
  return [
    head,
    `What the records do say, with ${Math.round(BOUND_CONFIDENCE * 100)} % confidence:`,
    ...lines,
    failed === 0
      ? 'Wait for failures, or give what is believed beforehand with --prior-shape and --prior-life.'
      : 'Give a shape with --shape, or wait for more failures.',
  ].join('\n')
}
