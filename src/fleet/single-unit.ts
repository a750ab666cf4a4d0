import type { DelayTruth, OptionTruth, UnitTruth } from '../history/unit-truth.ts'
import type { OptionPlan, OptionSet } from '../simulation/option-plan.ts'
import { isCentralInverter } from '../topologies/kinds.ts'
import type { ClassPlay } from './class-play.ts'

/**
 * Figures of one draw of a class whose option is one unit, in one row of numbers, so that the inner loop over draws and
 * sites reads one stretch of memory.
 */
export const AT = {
  multiplier: 0,
  hazardOfHorizon: 1,
  hazardAtStart: 2,
  hazardAtHorizon: 3,
  detectYears: 4,
  respondYears: 5,
  repairYears: 6,
  parts: 7,
  labour: 8,
  visit: 9,
  claimSuccess: 10,
  surcharge: 11,
  endOfProduction: 12,
  yearlyCost: 13,
} as const

/** Numbers of a row. */
export const ROW = 14

/** One of the figures. */
export type UnitFigure = keyof typeof AT

/**
 * Whether an option can take the quick path: one unit that is replaced whenever it fails, seen always or never, with
 * every visit of its own, and energy by months.
 *
 * @param plan - the option
 */
export function isSingleUnit(plan: OptionPlan): boolean {
  const { option, supply } = plan
  const [unit, second] = option.populations
  return (
    unit !== undefined &&
    second === undefined &&
    unit.count === 1 &&
    isCentralInverter(unit.kind) &&
    unit.repairRule === null &&
    unit.replaceAtAgeYears === null &&
    option.visitPolicy === null &&
    supply.partialLoss === null
  )
}

/**
 * The figures of every draw.
 *
 * @param play - class that `isSingleUnit` holds for; ages of the class
 * @returns draws × ROW, row-major
 */
export function unitRows({ sets, fates }: Pick<ClassPlay, 'sets' | 'fates'>): Float64Array {
  const rows = new Float64Array(sets.length * ROW)
  sets.forEach((set, draw) => {
    const figures = figuresOf(set, fates[set.truth.units[0]?.model ?? 0]?.endOfProduction[draw] ?? Infinity)
    // every figure has its place
    for (const figure of Object.keys(AT) as UnitFigure[]) rows[draw * ROW + AT[figure]] = figures[figure]
  })
  return rows
}

function figuresOf({ truth, terms }: OptionSet, endOfProduction: number): Record<UnitFigure, number> {
  const [unit] = truth.units
  const [price] = terms.units
  if (unit === undefined || price === undefined) throw new RangeError('no unit')
  return {
    multiplier: unit.multiplier,
    hazardOfHorizon: unit.hazardOfHorizon,
    hazardAtStart: unit.hazardAtStart,
    hazardAtHorizon: unit.hazardAtHorizon,
    detectYears: detectOf(truth, unit).medianYears,
    respondYears: unit.respond.medianYears,
    repairYears: unit.repair.medianYears,
    parts: price.parts,
    // in the order of the ledger, so that the last bit is the same
    labour: unit.needsVisit ? price.labour + price.labourEachFurther - price.labourEachFurther : 0,
    visit: unit.needsVisit ? terms.callOut + (price.onRoof ? terms.roofAccess : 0) : 0,
    claimSuccess: price.cover.claimSuccess,
    surcharge: price.surcharge,
    endOfProduction,
    yearlyCost: terms.yearlyCost,
  }
}

/**
 * How a failure of the only unit is detected: seen always, or never (O2).
 *
 * @param truth - of the option
 * @param unit - its unit
 */
export function detectOf(truth: OptionTruth, unit: UnitTruth): DelayTruth {
  return truth.monitoring === 'never' ? unit.detectUnmonitored : unit.detect
}
