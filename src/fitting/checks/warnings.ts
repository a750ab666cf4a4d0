import { unitsPerYear } from '../age-unit.ts'
import type { GroupResult, Warning } from '../fit-result.ts'
import type { FitSettings } from '../fit-settings.ts'
import type { Fit } from '../likelihood/fit-model.ts'
import type { RecordGroup, Records } from '../records/read-records.ts'
import { lifeAt } from '../rows.ts'

/** Failures under which the shape is warned about (ours). */
const FEW = 5

/** Oldest age, years, above which the age unit is doubted (ours: no inverter is that old). */
const OLDEST_YEARS = 60

/** Share of units still at work under which the records look like a list of failures (ours). */
const FEW_AT_WORK = 0.05

/** Share of units with an early fault above which mixed units are the likelier reason (ours). */
const MOST_EARLY = 0.3

/** Share of unit names that occur in several groups from which they look like names of sites, and how many at least (ours). */
const SHARED_NAMES = 0.5
const FEWEST_SHARED = 10

/** Codes of what records cannot support: the answer itself repeats these. */
export const CANNOT_CARRY: ReadonlySet<string> = new Set([
  'few-failures',
  'none-at-work',
  'overlapping-rows',
  'out-of-order',
  'early-share',
  'depends-on-last',
  'shared-names',
  'unknown-units',
  'present-units-only',
  'failed-twice',
  'replaced-no-ticket',
  'tickets-start-late',
])

/**
 * Warnings about the file as a whole.
 *
 * @param records - as read
 */
export function recordWarnings(records: Records): Warning[] {
  const warnings: Warning[] = []
  if (records.nSkipped > 0) {
    const first = records.skipped[0]
    const example = first === undefined ? '' : ` The first is line ${first.line}: ${first.message}.`
    warnings.push({
      code: 'rows-left-out',
      group: null,
      text: `${records.nSkipped} of ${records.nLines} rows could not be read and were left out.${example}`,
    })
  }
  if (records.nOnFirstDay > 0) {
    warnings.push({
      code: 'failed-on-first-day',
      group: null,
      text: `${records.nOnFirstDay} ${records.nOnFirstDay === 1 ? 'unit' : 'units'} failed on the day of installation; they count as failed some time within that day.`,
    })
  }
  const { nNames, nSharedNames } = records
  if (nSharedNames >= FEWEST_SHARED && nSharedNames >= SHARED_NAMES * nNames) {
    warnings.push({
      code: 'shared-names',
      group: null,
      text: `${nSharedNames} of ${nNames} unit names occur in several groups, so they seem to name sites or plants. The age at the first ticket of a site with several units is not the life of a unit.`,
    })
  }
  return warnings
}

/**
 * Warnings about one group.
 *
 * @param group - its results
 * @param records - its records
 * @param fit - the model in use; null where none
 * @param settings - of the run
 */
export function groupWarnings(
  group: GroupResult,
  records: RecordGroup | undefined,
  fit: Fit | null,
  settings: FitSettings,
): Warning[] {
  const warnings: Warning[] = []
  const say = (code: string, text: string): void => {
    warnings.push({ code, group: group.name, text })
  }
  const perYear = unitsPerYear(settings.ageUnit)
  const oldestYears = group.oldestAge / perYear

  if (oldestYears > OLDEST_YEARS) {
    say(
      'age-unit',
      `The oldest unit would be ${Math.round(oldestYears)} years old. Check whether --age-unit ${settings.ageUnit} is right.`,
    )
  }
  if (fit === null) {
    say('not-fitted', group.choice)
    return warnings
  }
  if (group.failed < FEW && settings.shape === null) {
    say(
      'few-failures',
      `The shape is based on ${group.failed} ${group.failed === 1 ? 'failure' : 'failures'}. Trust the ranges, not the single figures, or give a shape with --shape.`,
    )
  }
  const working = group.units - group.failed
  if (group.failed >= FEW && working < FEW_AT_WORK * group.units) {
    say(
      'none-at-work',
      `${working === 0 ? 'No unit is still at work' : `Only ${working} of ${group.units} units ${working === 1 ? 'is' : 'are'} still at work`}. A list of failures or tickets is not a list of units: add the units that still work, or lives look too short.`,
    )
  }
  if (records !== undefined && records.nOverlapping > 0) {
    say(
      'overlapping-rows',
      `${countUnits(records.nOverlapping)} ${records.nOverlapping === 1 ? 'has' : 'have'} rows that overlap in time, as if it had several lives at once. If each row is a ticket, give units and tickets with --register and --tickets.`,
    )
  }
  if (records !== undefined && records.nOutOfOrder > 0) {
    say(
      'out-of-order',
      `The rows of ${countUnits(records.nOutOfOrder)} are not in order of time; they were put in order here. Where only the first row of a unit was kept, make sure that it is the first in time.`,
    )
  }
  const early = earlyShare(group)
  if (early > MOST_EARLY) {
    say(
      'early-share',
      `The curve takes ${Math.round(100 * early)} % of the units to be faulty from the start. Mixed units, or sites of different size, in one group are the likelier reason: fit them separately with --by before anyone calls units faulty.`,
    )
  }
  if (group.dependsOnLast !== null) {
    const { age, atMost, failedByTenYears } = group.dependsOnLast
    say(
      'depends-on-last',
      `The curve depends on its last few units: beyond ${figureText(age)} ${settings.ageUnit} at most ${atMost} were watched. Without what they show, ${percent(failedByTenYears)} would fail within ten years in place of ${percent(group.failedBy.find(point => point.years === 10)?.estimate ?? 0)}.`,
    )
  }
  if (oldestYears < 25) {
    say(
      'beyond-the-records',
      `No unit was watched beyond ${years(oldestYears)}. Figures for later years are extrapolated.`,
    )
  }
  if (group.goodness?.pValue !== null && group.goodness !== null && group.goodness.pValue < 0.05) {
    say(
      'poor-fit',
      'The curve and the records disagree more than chance explains. Look at the bands of ages, and whether the group mixes different units.',
    )
  }
  if (settings.warrantyYears !== null && records !== undefined) {
    const text = warrantyText(group, records, settings.warrantyYears, perYear)
    if (text !== null) say('inside-warranty', text)
  }
  for (const cluster of group.clusters.slice(0, 3)) {
    const what = cluster.kind === 'batch' ? `Batch ${cluster.name}` : `Units installed in ${cluster.name}`
    say(
      cluster.kind === 'batch' ? 'batch-stands-out' : 'month-stands-out',
      `${what} had ${cluster.seen} failures where ${cluster.expected.toFixed(1)} are expected. They may share a fault; fit them separately with --by, or leave them out.`,
    )
  }
  const open = Object.values(group.models.find(model => model.name === group.best)?.parameters ?? {})
  if (open.some(figure => figure.profile95?.some(bound => bound === null))) {
    say('open-range', 'For at least one figure the records set no limit on one side. More failures would close it.')
  }
  if (group.draws !== null && group.draws.effectiveDraws < 300) {
    say(
      'rough-draws',
      'The joint draws passed to a scenario are rough, because the records fit very different curves nearly equally well.',
    )
  }
  return warnings
}

/** Null where failures came after the warranty too. */
function warrantyText(
  group: GroupResult,
  { rows }: RecordGroup,
  warrantyYears: number,
  perYear: number,
): string | null {
  const end = warrantyYears * perYear
  let watched = 0
  let watchedAfter = 0
  for (let r = 0; r < rows.counts.length; r++) {
    const { startAge, afterAge, beforeAge, count } = lifeAt(rows, r)
    if (beforeAge !== Infinity && beforeAge > end) return null
    watched += count * (afterAge - startAge)
    watchedAfter += count * Math.max(0, afterAge - Math.max(startAge, end))
  }
  if (group.failed === 0) return null
  if (watchedAfter === 0) {
    return `The records end with the warranty of ${years(warrantyYears)}, so they say nothing about later years.`
  }
  const share = Math.round((100 * watchedAfter) / watched)
  return `All ${group.failed} failures came inside the warranty of ${years(warrantyYears)}, although ${share} % of the watched time lies after it. Failures outside the warranty may not have been reported; the curve then shows old units as better than they are.`
}

function years(value: number): string {
  const text = value >= 10 ? value.toFixed(0) : String(Number(value.toFixed(1)))
  return `${text} ${text === '1' ? 'year' : 'years'}`
}

function earlyShare(group: GroupResult): number {
  const modes = group.models.find(model => model.name === group.best)?.modes ?? []
  return group.best === 'weibull+early' ? (modes.find(mode => mode.susceptible < 1)?.susceptible ?? 0) : 0
}

function countUnits(count: number): string {
  return `${count} ${count === 1 ? 'unit' : 'units'}`
}

function percent(share: number): string {
  return `${Number((100 * share).toPrecision(2))} %`
}

function figureText(value: number): string {
  return String(Number(value.toPrecision(3)))
}
