import { figureOf } from '../evidence/index.ts'
import { isSunInverter } from '../topologies/sun-inverter.ts'
import type { HourlyFiles } from './hourly-files.ts'
import type { Option } from './model.ts'
import type { Resolution } from './resolution.ts'
import type {
  ArraysGeneration,
  HourlyGeneration,
  Load,
  Location,
  RoofArray,
  RoofFigures,
  Shade,
  ShadeWindow,
  Sky,
} from './roof.ts'
import { roofFigures } from './roof-figures.ts'
import type { GivenArray } from './schema/arrays.ts'
import type { GivenScenario } from './schema/scenario.ts'

/**
 * Arrays of panels and where they stand, complete (section 6, E1); every figure of the chain is listed.
 *
 * @param given - the scenario as written, without problems
 * @param resolution - takes assumptions and notes
 * @param files - hourly light, where it is named
 */
export function completeArrays(given: GivenScenario, resolution: Resolution, files: HourlyFiles): ArraysGeneration {
  const { generation } = given.site
  const arrays = (generation.arrays ?? []).map(array => completeArray(array, resolution))
  const inWords = arrays.some(array => array.shade.word !== null)
  return {
    form: 'arrays',
    location: completeLocation(given, resolution, files),
    arrays,
    lossesShare: resolution.value({
      key: 'site.generation.losses',
      unit: 'share',
      given: generation.losses,
      filling: { figure: figureOf(null, 'roof.losses') },
    }),
    degradation: completeDegradation(given, resolution),
    figures: listedFigures(resolution, key =>
      key.startsWith('shade_') ? inWords : key !== 'sub_hourly_uplift' || files.weather !== null,
    ),
  }
}

/**
 * An hourly year of generation, complete (E7).
 *
 * @param given - the scenario as written, without problems
 * @param resolution - takes assumptions
 * @param hourlyKwh - the hours read
 */
export function completeHourly(
  given: GivenScenario,
  resolution: Resolution,
  hourlyKwh: Float64Array,
): HourlyGeneration {
  const { generation } = given.site
  const sum = hourlyKwh.reduce((total, kwh) => total + kwh, 0)
  const scale = generation.annual_kwh === undefined ? 1 : generation.annual_kwh / sum
  resolution.word('site.generation.hourly_csv', generation.hourly_csv, '')
  resolution.value({ key: 'site.generation (sum of the hours)', unit: 'kWh', given: sum * scale, filling: NEVER })
  if (generation.as_quoted_for !== undefined)
    resolution.word('site.generation.as_quoted_for', generation.as_quoted_for, '')
  const quoted = given.options.findIndex(option => option.name === generation.as_quoted_for)
  return {
    form: 'hourly',
    hourlyKwh: hourlyKwh.map(kwh => kwh * scale),
    asQuotedFor: quoted < 0 ? null : quoted,
    includesDowntime: resolution.value({
      key: 'site.generation.includes_downtime',
      unit: 'share',
      given: generation.includes_downtime,
      filling: { choice: 0, remark: 'the energy is taken to hold no downtime' },
    }),
    degradation: completeDegradation(given, resolution),
    figures: listedFigures(resolution, key => key === 'sub_hourly_uplift'),
  }
}

/**
 * What the household uses, complete (C5); with it `self_consumed` is not read.
 *
 * @param given - the scenario as written, without problems
 * @param resolution - takes assumptions and notes
 * @param loadKwh - the hours read, where the shape is a file
 * @returns undefined where no load is told
 */
export function completeLoad(
  given: GivenScenario,
  resolution: Resolution,
  loadKwh: Float64Array | null,
): Load | undefined {
  const { load } = given.site
  if (load === undefined) return undefined
  if (given.site.energy_value.self_consumed !== undefined)
    resolution.note(
      'load-rules',
      'Both a load and self_consumed are given; the load rules and self_consumed is not read.',
    )
  if (loadKwh !== null) {
    const sum = loadKwh.reduce((total, kwh) => total + kwh, 0)
    const annualKwh = load.annual_kwh ?? sum
    resolution.value({ key: 'site.load.annual_kwh', unit: 'kWh', given: annualKwh, filling: NEVER })
    return { form: 'hourly', hourlyKwh: loadKwh.map(kwh => (sum > 0 ? (kwh * annualKwh) / sum : 0)) }
  }
  const annualKwh = load.annual_kwh ?? 0
  resolution.value({ key: 'site.load.annual_kwh', unit: 'kWh', given: annualKwh, filling: NEVER })
  const shape = typeof load.shape === 'string' ? load.shape : undefined
  resolution.word('site.load.shape', shape, 'day-evening')
  return { form: shape ?? 'day-evening', annualKwh }
}

/**
 * An option whose inverters have as many strings as they use inputs, where `strings` is not told (O4).
 *
 * @param option - complete
 * @param given - the option as written
 * @param arrays - the arrays of the roof
 */
export function withUsedInputs(
  option: Option,
  given: GivenScenario['options'][number],
  arrays: readonly RoofArray[],
): Option {
  let before = 0
  const populations = option.populations.map(population => {
    if (!isSunInverter(population.kind) || population.kind === 'panel-level-unit') return population
    const first = before
    before += population.count * population.inputs
    if (given.components[population.place]?.strings !== undefined) return population
    const used = new Set(arrays.map(array => array.input).filter(input => input > first && input <= before)).size
    return { ...population, strings: Math.max(1, Math.round(used / population.count)) }
  })
  return { ...option, populations }
}

// Stands where the user gave the value and nothing has to be filled.
const NEVER = { choice: 0, remark: '' }

function completeDegradation(given: GivenScenario, resolution: Resolution): number {
  return resolution.value({
    key: 'site.generation.degradation',
    unit: 'share/year',
    given: given.site.generation.degradation,
    filling: { figure: figureOf(null, 'site.generation.degradation') },
  })
}

function completeLocation(given: GivenScenario, resolution: Resolution, files: HourlyFiles): Location {
  const { location } = given.site
  if (location === undefined) throw new RangeError('arrays without a location passed the check')
  resolution.value({ key: 'site.location.latitude', unit: 'degrees', given: location.latitude, filling: NEVER })
  const airC = location.monthly_air_temperature_c ?? null
  if (airC === null && files.weather?.airC == null)
    resolution.word('site.location.monthly_air_temperature_c', undefined, 'from the latitude')
  return { latitudeDegrees: location.latitude, sky: completeSky(location, resolution, files), airC }
}

function completeSky(
  location: NonNullable<GivenScenario['site']['location']>,
  resolution: Resolution,
  files: HourlyFiles,
): Sky {
  if (files.weather !== null) {
    resolution.word('site.location.hourly_csv', location.hourly_csv, '')
    return { form: 'hourly', weather: files.weather }
  }
  if (location.monthly_ghi_kwh_m2_day !== undefined) {
    const mean = location.monthly_ghi_kwh_m2_day.reduce((sum, kwh) => sum + kwh, 0) / 12
    const key = 'site.location.monthly_ghi_kwh_m2_day (mean of twelve)'
    resolution.value({ key, unit: 'kWh/m² a day', given: mean, filling: NEVER })
    return { form: 'monthly', globalKwhM2Day: location.monthly_ghi_kwh_m2_day }
  }
  const climate = location.climate ?? 'temperate'
  resolution.word('site.location.climate', location.climate, climate)
  resolution.note(
    'typical-climate',
    'The light is that of a typical climate, not of this place: the energy of the roof is known to about 12 %.',
  )
  return { form: 'climate', climate }
}

function completeArray(given: GivenArray, resolution: Resolution): RoofArray {
  const mounting = given.mounting ?? 'close-roof'
  const azimuthDegrees = given.azimuth % 360
  const said = [
    `${given.panels} × ${given.panel_w} W`,
    `${given.tilt}° from flat`,
    `facing ${azimuthDegrees}°`,
    `input ${given.input ?? 1}`,
    mounting,
    shadeWords(given),
  ]
  resolution.word(`site.generation.arrays ${given.name}`, said.join(', '), '')
  return {
    name: given.name,
    panels: given.panels,
    panelW: given.panel_w,
    tiltDegrees: given.tilt,
    azimuthDegrees,
    input: given.input ?? 1,
    strings: given.strings ?? null,
    wiring: given.wiring ?? null,
    mounting,
    shade: completeShade(given),
  }
}

function completeShade(given: GivenArray): Shade {
  const { shade } = given
  return {
    word: typeof shade === 'string' && shade !== 'none' ? shade : null,
    windows: typeof shade === 'object' ? shade.map(window => completeWindow(window, given.panels)) : [],
    horizon: (given.horizon ?? [])
      .map(({ azimuth, height }) => ({ azimuthDegrees: azimuth % 360, heightDegrees: height }))
      .sort((a, b) => a.azimuthDegrees - b.azimuthDegrees),
  }
}

type GivenWindow = Extract<NonNullable<GivenArray['shade']>, readonly unknown[]>[number]

function completeWindow(window: GivenWindow, panels: number): ShadeWindow {
  const [firstMonth = 1, lastMonth = 12] = window.months
  const [from = 0, to = 24] = window.hours
  const [first, last] = Array.isArray(window.panels) ? window.panels : [1, window.panels ?? panels]
  return {
    months: [firstMonth, lastMonth],
    hours: [from, to],
    firstPanel: (first ?? 1) - 1,
    panels: (last ?? panels) - (first ?? 1) + 1,
    beamLost: window.beam_lost,
  }
}

function shadeWords({ shade, horizon }: GivenArray): string {
  if (typeof shade === 'string') return `shade ${shade}`
  const windows = shade?.length ?? 0
  const line = horizon === undefined || horizon.length === 0 ? '' : 'a horizon line'
  const told = windows === 0 ? '' : `${windows} shadow${windows === 1 ? '' : 's'}`
  return [told, line].filter(part => part !== '').join(' and ') || 'no shade told'
}

/** The figures of the chain, those that are read here listed with their sources. */
function listedFigures(resolution: Resolution, isRead: (key: string) => boolean): RoofFigures {
  for (const key of FIGURE_KEYS) {
    if (!isRead(key)) continue
    const figure = figureOf(null, `roof.${key}`)
    resolution.value({ key: `roof.${key}`, unit: figure.unit, given: undefined, filling: { figure } })
  }
  return roofFigures()
}

const FIGURE_KEYS = [
  'ground_reflectance',
  'incidence_coefficient',
  'diffuse_taken',
  'heat_loss.close-roof',
  'heat_loss.rack',
  'heat_loss.open',
  'power_per_kelvin',
  'daytime_warmer_k',
  'ac_wiring_loss',
  'series_mismatch',
  'optimiser_efficiency',
  'shade_word.light',
  'shade_word.moderate',
  'shade_word.heavy',
  'shade_impact.string',
  'shade_impact.panel',
  'shade_recovered',
  'shade_word_touches',
  'sub_hourly_uplift',
  'max_panels_in_string',
] as const
