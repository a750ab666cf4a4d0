import { cumulativeHazard } from '../../numerics/lives/competing-risks.ts'
import { TOPOLOGIES } from '../../topologies/index.ts'
import { kindOf, kindWords } from '../../topologies/kinds.ts'
import { MONTHS_PER_YEAR } from '../../units.ts'
import { countsSurvivors } from '../complete/failure.ts'
import { noteLater } from '../complete/later.ts'
import type { Resolution } from '../complete/resolution.ts'
import { modesAt } from '../failure-at.ts'
import type { Failure } from '../model/failure.ts'
import type { Population } from '../model/population.ts'
import type { Option, Scenario, Site } from '../model.ts'
import type { GivenScenario } from '../schema/scenario.ts'
import { fitNotes } from './fit-notes.ts'
import { lookAgain } from './look-again.ts'

/**
 * Adds the notes that follow from the scenario as a whole (U1c, E8).
 *
 * @param given - as written
 * @param site - the complete site
 * @param options - complete options
 * @param tierEffect - drawn, fixed or null
 * @param resolution - takes the notes
 */
export function addNotes(
  given: GivenScenario,
  site: Site,
  options: readonly Option[],
  tierEffect: Scenario['tierEffect'],
  resolution: Resolution,
): void {
  lookAgain(site, options, resolution)
  if (tierEffect === null)
    resolution.note(
      'no-tier-gap',
      'No tier gap was played: no option takes the failures of another tier from evidence.',
    )
  else
    resolution.note(
      'tiers-are-judgement',
      'That a robust inverter fails less than a plain one is judgement: no independent field data show it.',
    )
  if (given.prices_from_evidence !== undefined)
    resolution.note(
      'prices-from-evidence',
      'Prices that were not given come from evidence of another country and year; put your own in their place.',
    )
  noteIsolators(site, options, resolution)
  for (const option of options) noteLeftOut(option, resolution)
  noteLater(options, resolution)
  for (const { code, text, option } of fitNotes({ site, options })) resolution.note(code, text, option)
}

/** A part that only strings on a roof may need, and that is never filled in unasked. */
function noteIsolators(site: Site, options: readonly Option[], resolution: Resolution): void {
  const { generation } = site
  if (generation.form === 'arrays' && generation.arrays.every(array => array.mounting === 'open')) return
  const without = options.filter(
    option =>
      TOPOLOGIES[option.topology].tracking !== 'panel' &&
      !option.populations.some(({ kind }) => kindOf(kind).role === 'string'),
  )
  if (without.length > 0)
    resolution.note(
      'no-dc-isolator',
      `Some countries ask for a DC isolator on the roof, which only strings need and which fails too. None is counted for ${list(without.map(({ name, id }) => `${name} (${id})`))}; where yours has one, add the component {kind: dc-isolator}.`,
    )
}

/** What was left out of an option and taken to be none (M2). */
function noteLeftOut(option: Option, resolution: Resolution): void {
  const kinds = (holds: (population: Population) => boolean) =>
    list(option.populations.filter(holds).map(population => kindWords(population.kind, 2)))
  const forEver = kinds(population => population.successor === null)
  if (forEver !== '')
    resolution.note(
      'no-successor-surcharge',
      `${option.name}: ${forEver} are taken to stay on sale; no surcharge for a successor is counted.`,
      option.id,
    )
  const alone = kinds(population => population.needsVisit && population.prices.labourEachFurther === null)
  const visited = option.populations.filter(population => population.needsVisit)
  const planned = visited.filter(population => population.replaceAtAgeYears !== null)
  if (alone !== '' && (visited.some(population => population.count > 1) || planned.length > 1))
    resolution.note(
      'labour-each-further',
      `${option.name}: labour for each further unit of a visit is not given for ${alone}; the full labour is taken.`,
      option.id,
    )
  for (const population of option.populations) {
    if (isPastItsLife(population.failure, population.ageYears, resolution))
      resolution.note(
        'past-their-life',
        `${option.name}: by the lives stated, hardly any of the ${kindWords(population.kind, 2)} reaches the age of ${population.ageYears} years that these have. They are played as failing at once.`,
        option.id,
      )
  }
  if (option.populations.some(population => population.ageYears > 0 && !countsSurvivors(population.failure)))
    resolution.note(
      'survivors-not-counted',
      `${option.name}: units are in service already. Survivors are not counted as evidence on the product; use fit for that.`,
      option.id,
    )
}

/** Whether all but one in a thousand units of an age fail within a month, everything at its middle (M2). The share is ours. */
function isPastItsLife(failure: Failure, ageYears: number, { unknowns }: Resolution): boolean {
  if (ageYears === 0) return false
  const modes = modesAt(failure, new Float64Array(unknowns.length), 1)
  const month = cumulativeHazard(modes, ageYears + 1 / MONTHS_PER_YEAR) - cumulativeHazard(modes, ageYears)
  return month > Math.log(1000)
}

function list(words: readonly string[]): string {
  const each = [...new Set(words)]
  return each.length < 2 ? each.join('') : `${each.slice(0, -1).join(', ')} and ${each.at(-1)}`
}
