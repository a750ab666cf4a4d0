import type { Option, Scenario } from '../scenario/model.ts'
import { TOPOLOGIES } from '../topologies/index.ts'
import { type PowerDuration, powerDuration } from './duration.ts'
import { type MonthStages, monthStages, powerOnItsWay } from './harvest/delivery.ts'
import { householdOf } from './meter.ts'
import { type OptimiserFindings, optimiserFindings } from './optimiser-findings.ts'
import { deliveredKwh, type OptionOnRoof, optionOnRoof } from './roof-energy.ts'
import { type RoofYear, roofYear } from './roof-year.ts'
import { type ShadeMap, shadeMap } from './shade/shade-map.ts'
import { withRecovered } from './shade/shade-variants.ts'

/** Energy of a year by calendar month, January first, kWh. */
export interface YearByMonth {
  readonly idealKwh: readonly number[]
  readonly shadeAndMismatchKwh: readonly number[]
  readonly conversionKwh: readonly number[]
  readonly clippingKwh: readonly number[]
  readonly exportLimitKwh: readonly number[]
  readonly deliveredKwh: readonly number[]
}

/** Findings of the roof for one option; all of year 0. */
export interface OptionRoofFindings {
  /** Id of the option. */
  readonly option: string
  readonly yearByMonth: YearByMonth
  readonly powerDuration: PowerDuration
  /** Delivered energy at the published ends of what panel-level tracking recovers; null where no shade is given in a word. */
  readonly deliveredRangeKwh: { readonly low: number; readonly high: number } | null
  readonly optimisers: OptimiserFindings | null
}

/** Findings of the roof, and of each option on it. */
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
  /** null where no shade is given. */
  readonly shadeMap: ShadeMap | null
  readonly shadeInWords: boolean
  /** In order of the options. */
  readonly options: readonly OptionRoofFindings[]
}

const LIGHT = { hourly: 'hourly file', monthly: 'monthly light', climate: 'typical climate' } as const

/**
 * What the report shows of a roof in addition to its energies: by month and cause, power, shade, optimisers on other
 * panels.
 *
 * @param scenario - the scenario
 * @returns findings of the roof and of each option; null unless the energy is stated as arrays
 */
export function roofFindings(scenario: Scenario): RoofFindings | null {
  const { site } = scenario
  const { generation } = site
  if (generation.form !== 'arrays') return null
  const roof = roofYear(generation)
  const household = householdOf(site, roof.sky, roof.idealKw)
  const inWords = generation.arrays.some(array => array.shade.word !== null)
  const { low, high } = generation.figures.shadeRecovered
  const ends = inWords ? [low, high].map(share => withRecovered(roof, share)) : null
  return {
    ...findingsOfRoof(roof, inWords),
    options: scenario.options.map(option => {
      const on = optionOnRoof(roof, household, site, option)
      const way = powerOnItsWay(roof.idealKw, on.harvest.devices, on.clippingUplift, 1)
      const atEnds = ends?.map(end => deliveredKwh(end, optionOnRoof(end, household, site, option))) ?? null
      return {
        option: option.id,
        yearByMonth: byMonth(monthStages(roof.sky, way, on.meter)),
        powerDuration: powerDuration(roof.sky, way, ratingOf(on)),
        deliveredRangeKwh: atEnds === null ? null : { low: Math.min(...atEnds), high: Math.max(...atEnds) },
        optimisers: tracksSome(option) ? optimiserFindings(roof, household, site, option) : null,
      }
    }),
  }
}

function tracksSome(option: Option): boolean {
  return TOPOLOGIES[option.topology].tracking === 'some-optimisers'
}

function findingsOfRoof(roof: RoofYear, shadeInWords: boolean): Omit<RoofFindings, 'options'> {
  const { generation, sky } = roof
  const { form } = generation.location.sky
  const sum = (column: Float64Array | undefined): number =>
    column?.reduce((total, value, step) => total + value * (sky.hours[step] ?? 0), 0) ?? 0
  return {
    light: LIGHT[form],
    accuracyShare: generation.figures.accuracy[form],
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
