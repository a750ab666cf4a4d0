import { unitsPerYear } from './age-unit.ts'
import type { Fit } from './fit-model.ts'
import type { FitSettings } from './fit-records.ts'
import type { GroupResult, Warning } from './fit-result.ts'
import type { RecordGroup, Records } from './records/read-records.ts'
import { lifeAt } from './rows.ts'

/** Failures under which a shape is called weakly founded (issue of the design: fewer than five). */
const FEW = 5

/** Oldest age, years, above which the age unit is doubted (ours: no inverter is that old). */
const OLDEST_YEARS = 60

/**
 * What has to be told about the file as a whole.
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
  return warnings
}

/**
 * What has to be told about one group.
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
      `The oldest unit would be ${Math.round(oldestYears)} years old. Look whether --age-unit ${settings.ageUnit} is right.`,
    )
  }
  if (fit === null) {
    say('not-fitted', group.choice)
    return warnings
  }
  if (group.failed < FEW && settings.shape === null) {
    say(
      'few-failures',
      `The shape rests on ${group.failed} ${group.failed === 1 ? 'failure' : 'failures'}. Take the ranges seriously and the single figures lightly, or give a shape with --shape.`,
    )
  }
  if (oldestYears < 25) {
    say(
      'beyond-the-records',
      `No unit was watched beyond ${years(oldestYears)}. What is said of later years is the curve drawn on, not seen.`,
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
      `${what} had ${cluster.seen} failures where ${cluster.expected.toFixed(1)} are expected. They may share a fault; fit them apart with --by, or leave them out.`,
    )
  }
  const open = Object.values(group.models.find(model => model.name === group.best)?.parameters ?? {})
  if (open.some(figure => figure.profile95?.some(bound => bound === null))) {
    say('open-range', 'For at least one figure the records set no limit on one side. More failures would close it.')
  }
  if (group.draws !== null && group.draws.effectiveDraws < 300) {
    say(
      'rough-draws',
      'The joint ranges handed to a scenario are rough, because the records fit very different curves nearly equally well.',
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
    return `The records end with the warranty of ${years(warrantyYears)}, so they say nothing of later years.`
  }
  const share = Math.round((100 * watchedAfter) / watched)
  return `All ${group.failed} failures came inside the warranty of ${years(warrantyYears)}, although ${share} % of the watched time lies after it. Failures outside the warranty may not have been reported; the curve is then too kind to old units.`
}

function years(value: number): string {
  const text = value >= 10 ? value.toFixed(0) : String(Number(value.toFixed(1)))
  return `${text} ${text === '1' ? 'year' : 'years'}`
}
