import { InputError } from '../errors.ts'
import type { KeyPath, Problems } from '../input/problems.ts'
import { readTextBeside } from '../input/read-text.ts'
import { readEpw } from './epw.ts'
import { readHourlyCsv } from './hourly-csv.ts'
import type { HourlyWeather } from './roof.ts'
import type { GivenScenario } from './schema/scenario.ts'

/** The hourly years a scenario names, read. */
export interface HourlyFiles {
  /** kWh, 8,760 hours; null where none is named. */
  readonly generationKwh: Float64Array | null
  readonly loadKwh: Float64Array | null
  readonly weather: HourlyWeather | null
}

const KWH = [{ name: 'kwh', needed: true, min: 0, max: 1e7 }]
const WEATHER = [
  { name: 'ghi_w_m2', needed: true, min: 0, max: 1500 },
  { name: 'dni_w_m2', needed: false, min: 0, max: 1500 },
  { name: 'dhi_w_m2', needed: false, min: 0, max: 1500 },
  { name: 'air_temperature_c', needed: false, min: -90, max: 70 },
]

/** Degrees by which an EPW file's latitude may differ from the roof's; ours, about 200 km. */
const LATITUDE_SLACK = 2

/**
 * Reads the hourly files that a scenario names (E7): generation, load, light.
 *
 * @param given - the scenario as written, without problems
 * @param baseFolder - folder that relative paths start from
 * @param problems - takes files that cannot be read, at their key
 * @returns their hours; null where none is named or could be read
 * @throws InputError when a file can be read but not used, with its lines
 */
export function readHourlyFiles(given: GivenScenario, baseFolder: string, problems: Problems): HourlyFiles {
  const { generation, load, location } = given.site
  const text = (path: KeyPath, file: string | undefined): string | null => {
    if (file === undefined) return null
    try {
      return readTextBeside(baseFolder, file)
    } catch (error) {
      if (!(error instanceof InputError)) throw error
      problems.add(path, `${file}: ${error.problems[0]?.message ?? 'cannot be read'}`)
      return null
    }
  }
  const kwh = (path: KeyPath, file: string | undefined): Float64Array | null => {
    const content = text(path, file)
    return content === null || file === undefined ? null : (readHourlyCsv(content, file, KWH).get('kwh') ?? null)
  }
  const light = text(['site', 'location', 'hourly_csv'], location?.hourly_csv)
  return {
    generationKwh: kwh(['site', 'generation', 'hourly_csv'], generation.hourly_csv),
    loadKwh: kwh(
      ['site', 'load', 'shape', 'hourly_csv'],
      typeof load?.shape === 'object' ? load.shape.hourly_csv : undefined,
    ),
    weather: location === undefined || light === null ? null : readWeather(location, light),
  }
}

function readWeather(location: NonNullable<GivenScenario['site']['location']>, text: string): HourlyWeather {
  const { longitude, utc_offset_hours: offset, hourly_csv: file = '' } = location
  if (/\.epw$/i.test(file) || text.startsWith('LOCATION,')) return readEpwAt(location.latitude, file, text)
  const read = readHourlyCsv(text, file, WEATHER)
  return {
    globalWM2: read.get('ghi_w_m2') ?? new Float64Array(),
    directNormalWM2: read.get('dni_w_m2') ?? null,
    diffuseWM2: read.get('dhi_w_m2') ?? null,
    airC: read.get('air_temperature_c') ?? null,
    clock:
      longitude === undefined || offset === undefined ? null : { longitudeDegrees: longitude, utcOffsetHours: offset },
  }
}

function readEpwAt(latitude: number | undefined, file: string, text: string): HourlyWeather {
  const year = readEpw(text, file)
  if (latitude !== undefined && Math.abs(year.latitudeDegrees - latitude) > LATITUDE_SLACK)
    throw refuse(
      file,
      `this file is of latitude ${year.latitudeDegrees}; site.location.latitude is ${latitude}. Take a file of a nearer place, or mend the latitude`,
    )
  return year.weather
}

function refuse(file: string, message: string): InputError {
  return new InputError([{ file, line: null, column: null, key: '', message }])
}
