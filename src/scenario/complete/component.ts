import { EVIDENCE_CURRENCY } from '../../evidence/figure.ts'
import { figureOf, findFigure } from '../../evidence/index.ts'
import { hasTiers, isOptimiser, kindOf } from '../../topologies/kinds.ts'
import type { FittedFiles } from '../files/fitted-files.ts'
import type { Population, ReplacementPrices, Warranty } from '../model/population.ts'
import { onePerPanel, unitsOf } from '../usual-parts.ts'
import type { ComponentPlace } from './component-place.ts'
import { completeDelay } from './delay.ts'
import { completeFailure } from './failure.ts'
import { partSize, sizeUnit } from './part-size.ts'
import type { Filling } from './resolution.ts'

/** What completing a component needs of its option and scenario. */
export interface Surroundings {
  /** Panels of the site; undefined where they are not known. */
  readonly panels: number | undefined
  /** Whether energy is played from the panels, with what inverters lose. */
  readonly fromPanels: boolean
  /** Units of the currency for one of the evidence; null: no price is filled. */
  readonly priceFactor: number | null
  /** Whether monitoring can work, and whether it can fail (O2). */
  readonly monitored: boolean
  readonly canBeUnmonitored: boolean
  /** Whether a visit of this option can repair more than one unit (W4). */
  readonly sharedVisits: boolean
  /** Whether an offer of the option names this component (W6). */
  readonly offered: boolean
  /** Index of the product model and, where the user named one, the prefix its unknowns share. */
  readonly model: number
  readonly sharedBy: string | null
  readonly fitted: FittedFiles
}

/**
 * One component of an option, complete: given values, gaps filled key by key, defaults.
 *
 * @param at - the component
 * @param around - what it needs of its option and scenario
 */
export function completeComponent(at: ComponentPlace, around: Surroundings): Population {
  const { given, kind } = at
  const count = at.value('count', given.count, {
    choice: unitsOf(given, at.option, around.panels),
    remark: around.panels !== undefined && onePerPanel(given, at.option) ? 'one a panel' : 'one unit unless given',
  })
  const onRoof = given.on_roof ?? kindOf(kind).onRoof
  const needsVisit = given.needs_visit ?? kindOf(kind).needsVisit
  if (hasTiers(kind)) at.resolution.word(at.keyOf('tier'), given.tier, 'plain', 'the reference row of the evidence')
  const number = (key: 'ac_kw' | 'replace_at_age_years' | 'share' | 'strings' | 'inputs') => {
    const value = given[key]
    return value === undefined ? null : at.value(key, value)
  }
  const ageYears = at.value('age_years', given.age_years, { choice: 0, remark: 'new unless given' })
  const population: Population = {
    kind,
    tier: hasTiers(kind) ? (given.tier ?? 'plain') : null,
    model: around.model,
    place: at.place,
    count,
    acKw: number('ac_kw'),
    ageYears,
    failure: completeFailure(at, around.sharedBy, around.fitted),
    ...completeDowntime(at, around),
    claimDays: at.value('downtime.claim_days', given.downtime?.claim_days),
    prices: completePrices(at, around, needsVisit),
    warranty: completeWarranty(at, around),
    successor: completeSuccessor(at),
    repairRule: completeRepair(at),
    replaceAtAgeYears: number('replace_at_age_years'),
    onRoof,
    needsVisit,
    share: number('share'),
    takesStringDown: takesStringDown(at),
    strings: number('strings') ?? 1,
    inputs: number('inputs') ?? 2,
    weightedEfficiency: completeEfficiency(at, around),
    ...(given.phases === undefined ? {} : { phases: given.phases }),
  }
  at.resolution.word(at.keyOf('on_roof'), word(given.on_roof), onRoof ? 'yes' : 'no')
  at.resolution.word(at.keyOf('needs_visit'), word(given.needs_visit), needsVisit ? 'yes' : 'no')
  return population
}

/** How well an inverter converts (E3): only a roof played from its panels reads it. */
function completeEfficiency(at: ComponentPlace, { fromPanels }: Surroundings): number | null {
  const { curve } = kindOf(at.kind)
  const given = at.given.weighted_efficiency
  if (curve === null || (given === undefined && !fromPanels)) return null
  const figure = figureOf(null, `weighted_efficiency.${curve}`)
  return at.resolution.value({ key: at.keyOf('weighted_efficiency'), given, filling: { figure } })
}

function word(value: boolean | undefined): string | undefined {
  return value === undefined ? undefined : value ? 'yes' : 'no'
}

function takesStringDown(at: ComponentPlace): Population['takesStringDown'] {
  if (kindOf(at.kind).role === 'string') return 1
  if (!isOptimiser(at.kind)) return 0
  return at.quantity({
    key: 'takes_string_down',
    scale: 'logit',
    given: at.given.takes_string_down,
    read: true,
  })
}

function completeDowntime(at: ComponentPlace, around: Surroundings) {
  const { monitors } = kindOf(at.kind)
  // A gateway's own fault is found after its detect_days (O2).
  const detectRead = around.monitored || monitors
  const unmonitoredRead = around.canBeUnmonitored && !monitors
  const given = at.given.downtime
  const unmonitoredKnown = given?.detect_days_unmonitored !== undefined || !monitors
  const detect = completeDelay(at, 'detect_days', detectRead)
  return {
    detect,
    // A gateway may lack this figure. It never reads it: its own fault is found after its detect_days.
    detectUnmonitored: unmonitoredKnown ? completeDelay(at, 'detect_days_unmonitored', unmonitoredRead) : detect,
    respond: completeDelay(at, 'respond_days', true),
    repair: completeDelay(at, 'repair_days', true),
  }
}

function completePrices(at: ComponentPlace, around: Surroundings, needsVisit: boolean): ReplacementPrices {
  const given = at.given.replacement
  const filled = (key: string): { filling: Filling } | Record<string, never> => {
    const filling = priceFilling(at, `replacement.${key}`, around)
    return filling === null ? {} : { filling }
  }
  const price = (key: 'parts' | 'labour' | 'labour_each_further', read: boolean) =>
    at.quantity({ key: `replacement.${key}`, scale: 'log', given: given?.[key], read, ...filled(key) })
  const parts = price('parts', true)
  const labourPriced = given?.labour !== undefined || around.priceFactor !== null
  const furtherPriced =
    given?.labour_each_further !== undefined ||
    (around.priceFactor !== null && at.hasFigure('replacement.labour_each_further'))
  return {
    parts,
    labour: needsVisit || labourPriced ? price('labour', needsVisit) : 0,
    labourEachFurther: furtherPriced ? price('labour_each_further', needsVisit && around.sharedVisits) : null,
    partsGrowth: at.quantity({
      key: 'replacement.parts_growth',
      scale: 'linear',
      given: given?.parts_growth,
      read: parts !== 0,
    }),
  }
}

/**
 * The price that the evidence would fill in, converted; per-kW figures times the rating.
 *
 * @param at - the component
 * @param key - from the component, e.g. `replacement.parts`
 * @param around - the factor of prices, and the panels that give a rating where none is given
 * @returns null where nothing fills it: no factor, no figure, or no rating for a price per kW
 */
function priceFilling(at: ComponentPlace, key: string, { priceFactor: factor, panels }: Surroundings): Filling | null {
  const figure = findFigure(at.row, key)
  if (figure === null || factor === null) return null
  const pricedBy = sizeUnit(figure)
  if (pricedBy === null) return { figure, factor, remark: `${figure.value} ${EVIDENCE_CURRENCY} × ${factor}` }
  const size = partSize(pricedBy, at.given, at.option, panels)
  if (size === null) return null
  const remark = `${figure.value} ${EVIDENCE_CURRENCY} × ${size.value} ${pricedBy} × ${factor}`
  if (size.estimatedFrom === null) return { figure, factor: factor * size.value, remark }
  at.resolution.note(
    'rating-estimated',
    `${at.option.name}: no rating is given for its ${at.label}; its parts are priced as for ${size.value} kW, estimated from ${size.estimatedFrom}.`,
    at.optionId,
  )
  // A published price times a judged size is a judgement.
  return { figure: { ...figure, known: 'judgement' }, factor: factor * size.value, remark: `${remark}; kW estimated` }
}

function completeWarranty(at: ComponentPlace, around: Surroundings): Warranty {
  const given = at.given.warranty
  const years = at.value('warranty.years', given?.years)
  // The term of the first component is swept (V1), so its claims are always read.
  const claimsRead = at.place === 0 || years > 0 || around.offered
  at.resolution.word(at.keyOf('warranty.replacement_cover'), given?.replacement_cover, 'new-if-bought')
  at.resolution.word(at.keyOf('warranty.visits_covered'), word(given?.visits_covered), 'no')
  return {
    years,
    labourYears: at.value('warranty.labour_years', given?.labour_years),
    partsShare: at.value('warranty.parts', given?.parts, { choice: 1, remark: 'cover pays parts in full' }),
    labourShare: at.value('warranty.labour', given?.labour, {
      choice: 1,
      remark: 'cover pays labour in full',
    }),
    claimSuccess: at.quantity({
      key: 'warranty.claim_success',
      scale: 'logit',
      given: given?.claim_success,
      read: claimsRead,
    }),
    replacementCover: given?.replacement_cover ?? 'new-if-bought',
    replacementMinYears: at.value('warranty.replacement_min_years', given?.replacement_min_years, {
      choice: 0,
      remark: 'no least cover unless given',
    }),
    visitsCovered: given?.visits_covered ?? false,
  }
}

function completeSuccessor(at: ComponentPlace): Population['successor'] {
  const given = at.given.successor
  if (given === undefined) return null
  at.value('successor.surcharge', given.surcharge)
  const chance = Object.entries(given.chance)
    .map(([age, share]) => [Number(age), share] as const)
    .sort(([a], [b]) => a - b)
  for (const [age, share] of chance) at.value(`successor.chance.${age}`, share)
  return { surcharge: given.surcharge, chance }
}

function completeRepair(at: ComponentPlace): Population['repairRule'] {
  const restore = at.given.restore
  at.resolution.word(
    at.keyOf('restore'),
    restore === undefined ? undefined : restore === 'replace' ? 'replace' : 'repair',
    'replace',
  )
  if (restore === undefined || restore === 'replace') return null
  const { renews, parts, labour, at_most } = restore.repair
  at.value('restore.repair.renews', renews)
  at.value('restore.repair.parts', parts)
  at.value('restore.repair.labour', labour)
  if (at_most !== undefined) at.value('restore.repair.at_most', at_most)
  return { renews, parts, labour, atMost: at_most ?? null }
}
