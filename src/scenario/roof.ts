/**
 * A roof of arrays as the energy chain plays it: where it is, how its panels lie, what shades
 * them and what the household uses. Plain data, every gap filled.
 */

/** A typical climate by name, where no irradiation is given. */
export type Climate = 'cloudy' | 'temperate' | 'sunny' | 'dry'

/** An hourly year of light and air, 8,760 hours from the first of January. */
export interface HourlyWeather {
  /** Global horizontal irradiance, W/m², mean of the hour. */
  readonly ghiWM2: Float64Array
  /** Direct normal irradiance, W/m²; null: split off by a published model. */
  readonly dniWM2: Float64Array | null
  /** Diffuse horizontal irradiance, W/m²; null: split off by a published model. */
  readonly dhiWM2: Float64Array | null
  /** °C; null: the monthly temperatures of the location. */
  readonly airC: Float64Array | null
  /** Time zone of its clock; null: its hours are solar time. */
  readonly clock: { readonly longitudeDegrees: number; readonly utcOffsetHours: number } | null
}

/** What is known of sun and sky at the site, best first. */
export type Sky =
  | { readonly form: 'hourly'; readonly weather: HourlyWeather }
  /** Global horizontal irradiation, kWh/m² a day, January first. */
  | { readonly form: 'monthly'; readonly ghiKwhM2Day: readonly number[] }
  | { readonly form: 'climate'; readonly climate: Climate }

/** Where the roof is. */
export interface Location {
  /** North positive, [-65, 65]. */
  readonly latitudeDegrees: number
  readonly sky: Sky
  /** Monthly means, January first; null: a rough one from the latitude. */
  readonly airC: readonly number[] | null
}

/** A shadow that recurs every day of some months (E4). */
export interface ShadeWindow {
  /** First and last calendar month, 1–12; the first may be the later one: [10, 2] is October to February. */
  readonly months: readonly [number, number]
  /** From and to, hours of solar time. */
  readonly hours: readonly [number, number]
  /** First panel in shadow, from 0. */
  readonly firstPanel: number
  /** How many panels. */
  readonly panels: number
  /** Share of the light from the sun's direction that is taken, (0, 1]. */
  readonly beamLost: number
}

/** A word for shade where no hours are given. */
export type ShadeWord = 'light' | 'moderate' | 'heavy'

/** What shades an array. */
export interface Shade {
  /** A word alone, without windows or horizon. */
  readonly word: ShadeWord | null
  readonly windows: readonly ShadeWindow[]
  /** Height of the surroundings, degrees, at bearings clockwise from north, ascending; straight lines between; empty: none. */
  readonly horizon: readonly { readonly azimuthDegrees: number; readonly heightDegrees: number }[]
}

/** How air reaches the back of the panels. */
export type Mounting = 'close-roof' | 'rack' | 'open'

/** Panels of one kind with the same tilt, azimuth and mounting. */
export interface RoofArray {
  readonly name: string
  readonly panels: number
  readonly panelW: number
  /** Degrees from flat, [0, 90]. */
  readonly tiltDegrees: number
  /** Degrees clockwise from north, [0, 360). */
  readonly azimuthDegrees: number
  /** Tracker input it is wired to, from 1. */
  readonly input: number
  /** Parallel strings within the array; null: as few as `maxPanelsInString` allows. */
  readonly strings: number | null
  /**
   * How it joins another array on the same input; null: parallel where the strings have equally many panels, else
   * series.
   */
  readonly wiring: 'series' | 'parallel' | null
  readonly mounting: Mounting
  readonly shade: Shade
}

/** The figures of the chain; all from evidence unless the scenario says otherwise (E1). */
export interface RoofFigures {
  /** Share of light that the ground reflects. */
  readonly groundReflectance: number
  /** b₀ of the incidence angle modifier. */
  readonly incidenceCoefficient: number
  /** Share of diffuse light that enters the panel. */
  readonly diffuseTaken: number
  /** U by mounting, W/m²K. */
  readonly heatLoss: Readonly<Record<Mounting, number>>
  /** Power per kelvin of cell temperature, below 0. */
  readonly powerPerKelvin: number
  /** How much warmer the air is in sunshine than in the monthly mean, K. */
  readonly daytimeWarmerK: number
  /** AC wiring, share lost. */
  readonly acWiringLoss: number
  /** Mismatch of unshaded panels in series, share lost. */
  readonly seriesMismatch: number
  /** Share kept by an optimiser. */
  readonly optimiserEfficiency: number
  /** Share of a year's light taken by shade that is given in a word. */
  readonly shadeWordShare: Readonly<Record<ShadeWord, number>>
  /** Loss of power over loss of light: strings, and panels tracked alone. */
  readonly shadeImpact: { readonly string: number; readonly panel: number }
  /** Share of the shade loss that tracking each panel alone wins back: published low and high. */
  readonly shadeRecovered: { readonly low: number; readonly high: number }
  /** Share of an array's panels that a shade given in words touches. */
  readonly shadeWordTouches: number
  /** Factor on the clipped energy of hourly files, >= 1: hourly means hide part of the clipping. */
  readonly subHourlyUplift: number
  /** Clearness of the year by climate. */
  readonly climateClearness: Readonly<Record<Climate, number>>
  /** Panels in one string where the number of strings is not given. */
  readonly maxPanelsInString: number
  /** How well a year's energy is known, by what is known of the light; shares. */
  readonly accuracy: Readonly<Record<Sky['form'], number>>
}

/** Arrays of panels and the light that falls on them. */
export interface ArraysGeneration {
  readonly form: 'arrays'
  readonly location: Location
  readonly arrays: readonly RoofArray[]
  /** Soiling, DC wiring, nameplate and the like, share lost. */
  readonly lossesShare: number
  /** Per year. */
  readonly degradation: number
  readonly figures: RoofFigures
}

/** An hourly year of generation, in the sense of `monthly_kwh` (E7). */
export interface HourlyGeneration {
  readonly form: 'hourly'
  /** 8,760 hours from the first of January; kWh. */
  readonly hourlyKwh: Float64Array
  /** Index of the option whose quote the kWh are; null: the energy is before the design losses of any option. */
  readonly asQuotedFor: number | null
  readonly includesDowntime: number
  readonly degradation: number
  readonly figures: RoofFigures
}

/** What the household uses: hours of solar time, or an hourly year. */
export type Load =
  | { readonly form: 'flat'; readonly annualKwh: number }
  | { readonly form: 'day-evening'; readonly annualKwh: number }
  /** 8,760 hours from the first of January; kWh. */
  | { readonly form: 'hourly'; readonly hourlyKwh: Float64Array }
