/**
 * Expected failures and planned replacements of a slot whose units are replaced at an age, failed or not (M6, X1).
 *
 * Between two failures a slot may go through any number of planned replacements, at known intervals. So its failures
 * are a plain renewal process again, whose 'life' is the time from a return to the next failure; planned replacements
 * are counted from the returns.
 *
 * @source R. BARLOW, F. PROSCHAN (1965), Mathematical Theory of Reliability, chapter 3 (age replacement; recalled)
 */

import { type DelayNodes, type ExpectedFailures, expectedFailures } from './renewal.ts'

/** A slot with planned replacement. */
export interface AgeReplacementSlot {
  /** Years, > 0. */
  readonly horizonYears: number
  /** Share of first units that fail by t years after the start, were there no planned replacement. */
  readonly first: (years: number) => number
  /** Share of new units that fail by an age of t years, were there no planned replacement. */
  readonly renewed: (years: number) => number
  /** From failure to return. */
  readonly downtime: DelayNodes
  /** Age in service at which a unit is replaced, years, > 0. */
  readonly replaceAtYears: number
  /** Age of the first unit at the start, years, >= 0. */
  readonly firstAgeYears: number
  /** From a planned replacement to the return, years, >= 0: the mean repair time. */
  readonly plannedDownYears: number
}

/** Expected counts of one slot. */
export interface ExpectedReplacements {
  /** Failures in (0, horizon]. */
  readonly failures: number
  /** Planned replacements begun in [0, horizon]; one that is due at the start counts. */
  readonly planned: number
}

/** Finer than the default of the renewal equation: the planned ages put kinks into the distribution. */
const STEPS_PER_YEAR = 12

/**
 * Expected failures and planned replacements of one slot up to the horizon (M6, X1).
 *
 * @param slot - see its fields
 * @returns counts; relative error under 1e-4
 * @throws RangeError unless the horizon and the age of replacement are > 0
 * @example
 * expectedReplacements({ horizonYears: 25, first: () => 0, renewed: () => 0, firstAgeYears: 4, replaceAtYears: 10, plannedDownYears: 0, downtime: { nodesYears: Float64Array.of(0), weights: Float64Array.of(1) } }) // { failures: 0, planned: 2 }
 */
export function expectedReplacements(slot: AgeReplacementSlot): ExpectedReplacements {
  const { horizonYears, downtime, replaceAtYears } = slot
  if (!(horizonYears > 0 && replaceAtYears > 0)) {
    throw new RangeError(`expectedReplacements: horizon and age must be > 0, got ${horizonYears}, ${replaceAtYears}`)
  }
  const failures = expectedFailures({
    horizonYears,
    first: untilFailure(slot, slot.first, firstDueYears(slot)),
    renewed: untilFailure(slot, slot.renewed, replaceAtYears),
    downtime,
    stepsPerYear: STEPS_PER_YEAR,
  })
  return { failures: failures.byHorizon, planned: plannedBy(slot, failures) }
}

/** When the first unit is due, if it lives: years after the start. */
function firstDueYears(slot: AgeReplacementSlot): number {
  return Math.max(0, slot.replaceAtYears - slot.firstAgeYears)
}

/**
 * Share of slots that have failed by t after a unit began, whatever was replaced as planned in between:
 * the unit fails before it is due, or one of those that follow it does.
 */
function untilFailure(slot: AgeReplacementSlot, life: (years: number) => number, dueYears: number) {
  const { renewed, replaceAtYears, plannedDownYears } = slot
  const failsBeforeDue = dueYears > 0 ? life(dueYears) : 0
  const newFailsBeforeDue = renewed(replaceAtYears)
  return (years: number): number => {
    if (years < dueYears) return life(years)
    let share = failsBeforeDue
    let alive = 1 - failsBeforeDue
    let age = years - dueYears - plannedDownYears
    while (age > 0 && alive > 0) {
      if (age < replaceAtYears) return share + alive * renewed(age)
      share += alive * newFailsBeforeDue
      alive *= 1 - newFailsBeforeDue
      age -= replaceAtYears + plannedDownYears
    }
    return share
  }
}

/** Planned replacements of the first unit's line, and of the lines that begin at the return from each failure. */
function plannedBy(slot: AgeReplacementSlot, failures: ExpectedFailures): number {
  const { horizonYears, renewed, replaceAtYears, plannedDownYears } = slot
  const intervalYears = replaceAtYears + plannedDownYears
  const newAliveShare = 1 - renewed(replaceAtYears)
  const due = firstDueYears(slot)
  let planned = 0
  let alive = due > 0 ? 1 - slot.first(due) : 1
  for (let at = due; at <= horizonYears && alive > 0; at += intervalYears) {
    planned += alive
    alive *= newAliveShare
  }
  alive = newAliveShare
  for (let age = replaceAtYears; age < horizonYears && alive > 0; age += intervalYears) {
    planned += alive * returnsBy(horizonYears - age, slot.downtime, failures)
    alive *= newAliveShare
  }
  return planned
}

/** Expected returns from failure by a moment: the failures, each moved later by its downtime. */
function returnsBy(years: number, downtime: DelayNodes, failures: ExpectedFailures): number {
  let returns = 0
  for (const [i, delay] of downtime.nodesYears.entries()) {
    if (delay < years) returns += (downtime.weights[i] ?? 0) * valueAt(failures, years - delay)
  }
  return returns
}

/** The expected count at a moment between two points: a cubic through the four points around it. */
function valueAt({ cumulative, stepYears }: ExpectedFailures, years: number): number {
  const last = cumulative.length - 1
  const place = years / stepYears
  const start = Math.min(Math.max(Math.floor(place) - 1, 0), Math.max(last - 3, 0))
  let value = 0
  for (let i = start; i <= start + 3; i++) {
    let weight = 1
    for (let j = start; j <= start + 3; j++) if (j !== i) weight *= (place - j) / (i - j)
    value += weight * (cumulative[i] ?? 0)
  }
  return value
}
