import { twoPieceAt } from '../../numerics/distributions/two-piece.ts'
import { ageAtHazard } from '../../numerics/lives/competing-risks.ts'
import { hazardOfShare } from '../../numerics/lives/model-average.ts'
import { modesAt } from '../../scenario/failure-at.ts'
import type { Failure, LifeForm } from '../../scenario/model/failure.ts'
import type { Scenario } from '../../scenario/model.ts'
import { middle, type Quantity } from '../../scenario/quantity.ts'
import { middleSet } from '../../simulation/parameter-sets.ts'
import { withLabourYears, withPopulation, withWarrantyYears } from '../changed-scenario.ts'
import { hasTierGap } from './unknowns-read.ts'

/** An input whose switch point is searched for (S2). */
export interface SwitchInput {
  readonly input: string
  /** Place of the option it belongs to; null: the whole scenario. */
  readonly option: number | null
  readonly unit: string
  readonly present: number
  /** Range that is searched. */
  readonly low: number
  readonly high: number
  readonly whole: boolean
  /** Whether it changes prices and terms only, so that histories can be reused. */
  readonly pricesOnly: boolean
  /** Of a life: the age by which half of new units have failed at a value, years; null: never. */
  readonly halfFailBy?: (value: number) => number | null
  /** The scenario with the input fixed at a value. */
  readonly at: (value: number) => Scenario
}

/** Unit of an input that is 1 where a cover pays it and 0 where not. */
export const COVERED = 'covered'

/** Standard normal score of the 99 % point. */
const SCORE_99 = 2.3263478740408408

/**
 * The inputs at which the two best options may change places (S2): labour, call-out, energy price, warranty years of
 * parts and of labour, call-outs covered or not, characteristic life, tier effect, discount rate.
 *
 * @param scenario - the scenario
 * @param pair - places of the two best options
 */
export function switchInputs(scenario: Scenario, pair: readonly number[]): SwitchInput[] {
  const { visit, site } = scenario
  const price = site.energyValue.importPricePerKwh
  const rate = scenario.discountRate
  const found: SwitchInput[] = [
    ...pair.flatMap(option => ofOption(scenario, option)),
    {
      ...ofScenario('call-out for a visit', scenario.currency, visit.callOut),
      at: callOut => ({ ...scenario, visit: { ...visit, callOut } }),
    },
    {
      ...ofScenario('price of energy bought', `${scenario.currency}/kWh`, price),
      at: importPricePerKwh => ({
        ...scenario,
        site: { ...site, energyValue: { ...site.energyValue, importPricePerKwh } },
      }),
    },
    {
      input: 'discount rate',
      option: null,
      unit: 'share per year',
      present: rate,
      low: rate - 0.05,
      high: rate + 0.05,
      whole: false,
      pricesOnly: true,
      at: discountRate => ({ ...scenario, discountRate }),
    },
  ]
  const gap = pair.some(option => {
    const stated = scenario.options[option]
    return stated !== undefined && hasTierGap(stated)
  })
  const { tierEffect } = scenario
  if (gap && tierEffect !== null) {
    found.push({
      input: 'how much of the judged gap between tiers is real',
      option: null,
      unit: '',
      present: 'fixed' in tierEffect ? tierEffect.fixed : 1,
      low: 0.02,
      high: 1.98,
      whole: false,
      pricesOnly: false,
      at: fixed => ({ ...scenario, tierEffect: { fixed } }),
    })
  }
  return found
}

function ofOption(scenario: Scenario, option: number): SwitchInput[] {
  const stated = scenario.options[option]
  const first = stated?.populations[0]
  if (stated === undefined || first === undefined) return []
  const { place, prices, warranty } = first
  const named = (what: string): string => `${what} (${stated.name})`
  const life = lifeOf(scenario, first.failure)
  const offer = stated.offers.find(one => one.taken && one.place === place)
  const parts = offer?.years ?? warranty.years
  return [
    {
      ...ofScenario(named('labour for a repair'), scenario.currency, prices.labour),
      option,
      at: labour =>
        withPopulation(scenario, option, place, population => ({
          ...population,
          prices: { ...population.prices, labour },
        })),
    },
    {
      input: named('parts warranty'),
      option,
      unit: 'years',
      present: parts,
      low: 0,
      high: scenario.horizonYears,
      whole: true,
      pricesOnly: true,
      at: years => withWarrantyYears(scenario, option, place, years),
    },
    ...(parts > 0
      ? [
          {
            input: named('labour warranty'),
            option,
            unit: 'years',
            present: Math.min(parts, offer?.labourYears ?? warranty.labourYears),
            low: 0,
            // W2: it ends with that of parts
            high: parts,
            whole: true,
            pricesOnly: true,
            at: (years: number) => withLabourYears(scenario, option, place, years),
          },
          {
            input: named('call-outs under warranty'),
            option,
            unit: COVERED,
            present: warranty.visitsCovered ? 1 : 0,
            low: 0,
            high: 1,
            whole: true,
            pricesOnly: true,
            at: (covered: number) =>
              withPopulation(scenario, option, place, population => ({
                ...population,
                warranty: { ...population.warranty, visitsCovered: covered === 1 },
              })),
          },
        ]
      : []),
    {
      input: named('characteristic life'),
      option,
      unit: 'years',
      ...life,
      whole: false,
      pricesOnly: false,
      halfFailBy: years => halfFailBy(scenario, withLife(first.failure, years, life.present)),
      at: years =>
        withPopulation(scenario, option, place, population => ({
          ...population,
          failure: withLife(population.failure, years, life.present),
        })),
    },
  ]
}

/** The age by which half of new units have failed, averaged over models (M4), all else in the middle; null: never. */
function halfFailBy(scenario: Scenario, failure: Failure): number | null {
  const modes = modesAt(failure, middleSet(scenario.unknowns.length).scores, 1)
  const age = ageAtHazard(modes, hazardOfShare(0.5, failure.modelSpread))
  return Number.isFinite(age) ? age : null
}

function ofScenario(input: string, unit: string, quantity: Quantity): Omit<SwitchInput, 'at'> {
  return { input, option: null, unit, present: middle(quantity), ...rangeOf(quantity), whole: false, pricesOnly: true }
}

/** 1 % to 99 % of a range, else a third to three times the number (S2). */
function rangeOf(quantity: Quantity): { low: number; high: number } {
  if (typeof quantity === 'number') return { low: quantity / 3, high: quantity * 3 }
  return { low: twoPieceAt(quantity, -SCORE_99), high: twoPieceAt(quantity, SCORE_99) }
}

/** The life that `lifeFactor` changes: of the wear-out mode, else of the last mode. */
function lifeOf(scenario: Scenario, failure: Failure): { present: number; low: number; high: number } {
  const modes = modesAt(failure, middleSet(scenario.unknowns.length).scores, 1)
  const present = modes.at(-1)?.lifeYears ?? 1
  const { source } = failure
  const stated = source.form === 'stated' ? source.modes.at(-1)?.life : undefined
  if (stated?.form === 'life' && typeof stated.lifeYears !== 'number') return { present, ...rangeOf(stated.lifeYears) }
  return { present, low: present / 3, high: present * 3 }
}

/** The failure with the characteristic life of its last mode at one figure, without a range (S2); others are scaled. */
function withLife(failure: Failure, years: number, present: number): Failure {
  const { source } = failure
  const last = source.form === 'stated' ? source.modes.at(-1) : undefined
  if (source.form !== 'stated' || last === undefined || last.life.shape === null)
    return { ...failure, lifeFactor: years / present }
  const life: LifeForm = { form: 'life', shape: last.life.shape, lifeYears: years }
  return { ...failure, source: { ...source, modes: [...source.modes.slice(0, -1), { ...last, life }] } }
}
