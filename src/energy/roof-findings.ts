import type { Option, Scenario } from '../scenario/model.ts'
import type { ArraysGeneration } from '../scenario/roof.ts'
import { TOPOLOGIES } from '../topologies/index.ts'
import { type MonthStages, powerOnItsWay, yearKwh } from './delivery.ts'
import { type PowerDuration, powerDuration } from './duration.ts'
import { fittedPanels } from './fitted-panels.ts'
import { householdOf } from './meter.ts'
import { type OptionOnRoof, optionOnRoof, stagesOf } from './roof-energy.ts'
import { type RoofYear, roofYear } from './roof-year.ts'
import { type ShadeMap, shadeMap } from './shade-map.ts'
import { withoutRecovery, withRecovered, withShadeMoved } from './shade-variants.ts'

/** Energy of a year by calendar month, January first, kWh. */
export interface YearByMonth {
  readonly idealKwh: readonly number[]
  readonly shadeAndMismatchKwh: readonly number[]
  readonly conversionKwh: readonly number[]
  readonly clippingKwh: readonly number[]
  readonly exportLimitKwh: readonly number[]
  readonly deliveredKwh: readonly number[]
}

/** Delivered energy of year 0 had the optimisers been chosen otherwise, or did the shade move; kWh. */
export interface OptimiserFindings {
  /** Panels fitted, by array. */
  readonly fitted: readonly { readonly array: string; readonly panels: number }[]
  readonly asFittedKwh: number
  readonly allInsteadKwh: number
  readonly noneInsteadKwh: number
  /** The shade moves along the array onto panels without optimisers, as when trees grow or a neighbour builds. */
  readonly shadeMovedKwh: number
  readonly shadeMovedAllInsteadKwh: number
}

/** What the roof says of one option; all of year 0. */
export interface OptionRoofFindings {
  /** Id of the option. */
  readonly option: string
  readonly yearByMonth: YearByMonth
  readonly powerDuration: PowerDuration
  /** Delivered energy at the published ends of what panel-level tracking recovers; null where no shade is told in a word. */
  readonly deliveredRangeKwh: { readonly low: number; readonly high: number } | null
  readonly optimisers: OptimiserFindings | null
}

/** What is known of the roof, and what each option makes of it. */
export interface RoofFindings {
  readonly light: 'hourly file' | 'monthly light' | 'typical climate'
  /** Accuracy of the year's energy as the evidence states it, share. */
  readonly accuracyShare: number
  readonly arrays: readonly {
    readonly name: string
    readonly kw: number
    /** DC energy without shade, after system losses, kWh a kW. */
    readonly kwhPerKw: number
    readonly lightKwhM2: number
  }[]
  /** null where no shade is told. */
  readonly shadeMap: ShadeMap | null
  readonly shadeInWords: boolean
  /** In order of the options. */
  readonly options: readonly OptionRoofFindings[]
}

/** Accuracy of a year's energy by what is known of the light: a single year's file, monthly means on any plane, a climate. */
const ACCURACY = { hourly: 0.05, monthly: 0.04, climate: 0.12 } as const
const LIGHT = { hourly: 'hourly file', monthly: 'monthly light', climate: 'typical climate' } as const

/**
 * What the report shows of a roof beside its energies: by month and cause, power, shade, optimisers chosen otherwise.
 *
 * @param scenario - the scenario
 * @returns findings of the roof and of each option; null unless the energy is stated as arrays
 */
export function roofFindings(scenario: Scenario): RoofFindings | null {
  const { site } = scenario
  const { generation } = site
  if (generation.form !== 'arrays') return null
  const roof = roofYear(generation)
  const inWords = generation.arrays.some(array => array.shade.word !== null)
  const ends = inWords
    ? [generation.figures.shadeRecovered.low, generation.figures.shadeRecovered.high].map(share =>
        roofYear(withRecovered(generation, share)),
      )
    : null
  const moved = scenario.options.some(tracksSome) ? movedRoof(generation) : null
  return {
    ...findingsOfRoof(roof, inWords),
    options: scenario.options.map(option => {
      const on = onRoof(roof, scenario, option)
      const stages = stagesOf(roof, on, 1)
      const atEnds = ends?.map(end => delivered(end, onRoof(end, scenario, option))) ?? null
      const way = powerOnItsWay(roof.idealKw, on.harvest.devices, on.clippingUplift, 1)
      return {
        option: option.id,
        yearByMonth: byMonth(stages),
        powerDuration: powerDuration(roof.sky, way, ratingOf(on)),
        deliveredRangeKwh: atEnds === null ? null : { low: Math.min(...atEnds), high: Math.max(...atEnds) },
        optimisers: moved !== null && tracksSome(option) ? optimiserFindings(roof, moved, scenario, option) : null,
      }
    }),
  }
}

function tracksSome(option: Option): boolean {
  return TOPOLOGIES[option.topology].tracking === 'some-optimisers'
}

function onRoof(
  roof: RoofYear,
  scenario: Scenario,
  option: Option,
  fitted?: readonly (readonly boolean[])[],
): OptionOnRoof {
  const household = householdOf(scenario.site, roof.sky, roof.idealKw)
  return optionOnRoof(roof, household, scenario.site, option, fitted)
}

function delivered(roof: RoofYear, on: OptionOnRoof): number {
  return yearKwh(stagesOf(roof, on, 1).deliveredKwh)
}

/** A shade that moved is one that no fitted panel meets: windows go along the array, words lose what tracking recovers. */
function movedRoof(generation: ArraysGeneration): (fitted: readonly (readonly boolean[])[]) => RoofYear {
  return fitted => {
    const counts = fitted.map(row => row.filter(Boolean).length)
    return roofYear(withoutRecovery(withShadeMoved(generation, counts)))
  }
}

function optimiserFindings(
  roof: RoofYear,
  moved: (fitted: readonly (readonly boolean[])[]) => RoofYear,
  scenario: Scenario,
  option: Option,
): OptimiserFindings {
  const fitted = fittedPanels(roof, option)
  const all = fitted.map(row => row.map(() => true))
  const none = fitted.map(row => row.map(() => false))
  const away = moved(fitted)
  const { arrays } = roof.generation
  const with_ = (year: RoofYear, rows: readonly (readonly boolean[])[]): number =>
    delivered(year, onRoof(year, scenario, option, rows))
  const awayWithRecovery = roofYear(
    withShadeMoved(
      roof.generation,
      fitted.map(row => row.filter(Boolean).length),
    ),
  )
  return {
    fitted: arrays.flatMap((array, index) => {
      const panels = fitted[index]?.filter(Boolean).length ?? 0
      return panels === 0 ? [] : [{ array: array.name, panels }]
    }),
    asFittedKwh: with_(roof, fitted),
    allInsteadKwh: with_(roof, all),
    noneInsteadKwh: with_(roof, none),
    shadeMovedKwh: with_(away, fitted),
    shadeMovedAllInsteadKwh: with_(awayWithRecovery, all),
  }
}

function findingsOfRoof(roof: RoofYear, shadeInWords: boolean): Omit<RoofFindings, 'options'> {
  const { generation, sky } = roof
  const { form } = generation.location.sky
  const sum = (column: Float64Array | undefined): number =>
    column?.reduce((total, value, step) => total + value * (sky.hours[step] ?? 0), 0) ?? 0
  return {
    light: LIGHT[form],
    accuracyShare: ACCURACY[form],
    arrays: generation.arrays.map((array, index) => ({
      name: array.name,
      kw: (array.panels * array.panelW) / 1000,
      kwhPerKw: sum(roof.arrays[index]?.unshadedPanelKw) / (array.panelW / 1000),
      lightKwhM2: sum(roof.arrays[index]?.unshadedLightWM2) / 1000,
    })),
    shadeMap: shadeMap(roof),
    shadeInWords,
  }
}

function ratingOf(on: OptionOnRoof): number | null {
  let sum = 0
  for (const { acKw, units } of on.harvest.devices) {
    if (acKw === null) return null
    sum += acKw * units
  }
  return sum > 0 ? sum : null
}

function byMonth(stages: MonthStages): YearByMonth {
  const { lossKwh } = stages
  return {
    idealKwh: [...stages.idealKwh],
    shadeAndMismatchKwh: [...lossKwh.shadeAndMismatch],
    conversionKwh: [...lossKwh.conversion],
    clippingKwh: [...lossKwh.clipping],
    exportLimitKwh: [...lossKwh.exportLimit],
    deliveredKwh: [...stages.deliveredKwh],
  }
}
