import { roofFigures } from '../../src/scenario/complete/roof-figures.ts'
import type { Population } from '../../src/scenario/model/population.ts'
import type { Option, Site } from '../../src/scenario/model.ts'
import type { ArraysGeneration, Location, RoofArray } from '../../src/scenario/roof.ts'

/** A roof array facing south at 25 degrees, changed as given. */
export function array(changes: Partial<RoofArray> = {}): RoofArray {
  return {
    name: 'south',
    panels: 12,
    panelW: 400,
    tiltDegrees: 25,
    azimuthDegrees: 180,
    input: 1,
    strings: null,
    wiring: null,
    mounting: 'close-roof',
    shade: { word: null, windows: [], horizon: [] },
    ...changes,
  }
}

/** A temperate place: 12 made-up monthly means of light and air. */
export const PLACE: Location = {
  latitudeDegrees: 47.2,
  sky: { form: 'monthly', ghiKwhM2Day: [1.1, 1.9, 3.2, 4.4, 5.4, 5.9, 6.0, 5.1, 3.7, 2.2, 1.3, 0.9] },
  airC: [0, 1, 5, 9, 14, 17, 19, 19, 15, 10, 4, 1],
}

/** A roof with the arrays given. */
export function roofOf(arrays: readonly RoofArray[], changes: Partial<ArraysGeneration> = {}): ArraysGeneration {
  return {
    form: 'arrays',
    location: PLACE,
    arrays,
    lossesShare: 0.07,
    degradation: 0.005,
    figures: roofFigures(),
    ...changes,
  }
}

/** A site that sells without limit, changed as given. */
export function site(generation: Site['generation'], changes: Partial<Site> = {}): Site {
  return {
    panels: null,
    panelW: null,
    generation,
    energyValue: {
      importPricePerKwh: 0.3,
      exportPricePerKwh: 0.07,
      selfConsumed: 0.3,
      importGrowth: 0,
      exportGrowth: 0,
    },
    network: { phases: 1, acLimitKwPerPhase: null, exportLimitKw: null, maxDcAcRatio: 1.33, netsAcrossPhases: true },
    ...changes,
  }
}

/** A population as far as the energy chain reads it. */
export function population(kind: Population['kind'], changes: Partial<Population> = {}): Population {
  return {
    kind,
    tier: null,
    model: 0,
    place: 0,
    count: 1,
    acKw: null,
    ageYears: 0,
    failure: {
      source: {
        form: 'stated',
        modes: [{ cause: 'wear', susceptible: 1, life: { form: 'life', shape: 2, lifeYears: 15 } }],
      },
      modelSpread: 0,
      badBatch: null,
      noneFailedSoFar: false,
    },
    detect: { medianDays: 3, p90OverMedian: 1 },
    detectUnmonitored: { medianDays: 45, p90OverMedian: 1 },
    respond: { medianDays: 10, p90OverMedian: 1 },
    repair: { medianDays: 0.2, p90OverMedian: 1 },
    claimDays: 0,
    prices: { parts: 1000, labour: 200, labourEachFurther: null, partsGrowth: 0 },
    warranty: {
      years: 5,
      labourYears: 2,
      partsShare: 1,
      labourShare: 1,
      claimSuccess: 1,
      replacementCover: 'new-if-bought',
      replacementMinYears: 0,
      visitsCovered: false,
    },
    successor: null,
    repairRule: null,
    replaceAtAgeYears: null,
    onRoof: false,
    needsVisit: true,
    share: null,
    takesStringDown: 0,
    strings: 1,
    inputs: 2,
    weightedEfficiency: null,
    ...changes,
  }
}

/** An option of a topology with its populations. */
export function option(
  topology: Option['topology'],
  populations: readonly Population[],
  changes: Partial<Option> = {},
): Option {
  return {
    id: 'A',
    name: topology,
    topology,
    upfrontCost: 0,
    includes: [],
    yearlyCost: 0,
    later: [],
    monitoring: 'built-in',
    populations: populations.map((p, place) => ({ ...p, place })),
    warrantyProvider: { name: 'a', exitRatePerYear: 0 },
    labourProvider: { name: 'b', exitRatePerYear: 0 },
    offers: [],
    visitPolicy: null,
    battery: null,
    designLosses: { mismatchAndShade: 0, clipping: 0, conversion: 0 },
    optimisersOn: null,
    ...changes,
  }
}

/** A plain string inverter of a rating. */
export function stringOption(acKw: number, changes: Partial<Population> = {}): Option {
  return option('string', [population('string-inverter', { acKw, ...changes })])
}

/** A unit behind each panel. */
export function panelOption(count: number, acKw: number | null): Option {
  return option('panel-level', [population('panel-level-unit', { acKw, count })])
}

/** A string inverter with optimisers on all panels. */
export function optimisedOption(acKw: number, panels: number): Option {
  return option('string-optimisers', [
    population('string-inverter', { acKw }),
    population('optimiser', { count: panels }),
  ])
}
