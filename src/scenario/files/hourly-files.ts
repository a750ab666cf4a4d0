import { InputError } from '../../errors.ts'
import type { KeyPath, Problems } from '../../input/problems.ts'
import { readTextFrom } from '../../input/read-text.ts'
import { tooLittleEnergy } from '../least-energy.ts'
import type { HourlyWeather } from '../roof.ts'
import { type MeterFile, meterFileOf } from '../schema/meter-file.ts'
import type { GivenScenario } from '../schema/scenario.ts'
import type { Draft } from '../schema/walk.ts'
import { readEpw } from './epw.ts'
import { readHourlyCsv } from './hourly-csv.ts'
import { meterYear } from './meter-year.ts'

/** The hourly years a scenario names, read. */
export interface HourlyFiles {
  /** kWh, 8,760 hours; null where none is named. */
  readonly generationKwh: Float64Array | null
  readonly loadKwh: Float64Array | null
  readonly weather: HourlyWeather | null
  /** What the reader has to know of how they were read. */
  readonly notes: readonly string[]
}

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
 * @param draft - the scenario as far as it could be read
 * @param baseFolder - folder that relative paths start from
 * @param problems - takes what is wrong with a file: at its key where it cannot be opened, else at its own lines
 * @returns their hours; null where none is named or could be read
 */
export function readHourlyFiles(draft: Draft<GivenScenario>, baseFolder: string, problems: Problems): HourlyFiles {
  const { generation, load, location } = draft.site ?? {}
  const notes: string[] = []
  const read = <Year>(path: KeyPath, file: string | undefined, parse: (text: string) => Year): Year | null => {
    if (file === undefined || problems.touches(path)) return null
    const text = textOf(baseFolder, file, message => problems.add(path, message))
    if (text === null) return null
    try {
      return parse(text)
    } catch (error) {
      if (!(error instanceof InputError)) throw error
      problems.include(error.problems)
      return null
    }
  }
  const kwh = (path: KeyPath, meter: MeterFile | null): Float64Array | null =>
    read(path, meter?.file, text => {
      if (meter === null) throw new RangeError('a file that is read is named')
      const year = meterYear(text, meter)
      notes.push(...year.notes)
      return year.kwh
    })
  const needEnergy = (path: KeyPath, meter: MeterFile | null, hours: Float64Array | null): void => {
    const flaw = hours === null ? null : tooLittleEnergy(`${meter?.file}: the hours`, hours)
    if (flaw !== null) problems.add(path, flaw)
  }
  const generationPath = ['site', 'generation', 'hourly_csv']
  const meter = meterFileOf(generation?.hourly_csv)
  const generationKwh = kwh(generationPath, meter)
  needEnergy(generationPath, meter, generationKwh)
  const loadPath = ['site', 'load', 'shape', 'hourly_csv']
  const loadMeter = meterFileOf(typeof load?.shape === 'object' ? load.shape.hourly_csv : undefined)
  const loadKwh = kwh(loadPath, loadMeter)
  // a load of 0 kWh is allowed, but cannot be rescaled to annual_kwh
  if (load?.annual_kwh !== undefined) needEnergy(loadPath, loadMeter, loadKwh)
  return {
    generationKwh,
    loadKwh,
    weather: read(['site', 'location', 'hourly_csv'], location?.hourly_csv, text =>
      readWeather(location ?? {}, text, notes),
    ),
    notes,
  }
}

/** The text of a file; null where it cannot be opened, which is reported. */
function textOf(baseFolder: string, file: string, report: (message: string) => void): string | null {
  try {
    return readTextFrom(baseFolder, file)
  } catch (error) {
    if (!(error instanceof InputError)) throw error
    report(`${file}: ${error.problems[0]?.message ?? 'cannot be read'}`)
    return null
  }
}

function readWeather(
  location: Draft<NonNullable<GivenScenario['site']['location']>>,
  text: string,
  notes: string[],
): HourlyWeather {
  const { longitude, utc_offset_hours: offset, hourly_csv: file = '' } = location
  if (/\.epw$/i.test(file) || text.startsWith('LOCATION,')) return readEpwAt(location.latitude, file, text)
  const { columns: read, notes: said } = readHourlyCsv(text, file, WEATHER)
  notes.push(...said)
  return {
    ghiWM2: read.get('ghi_w_m2') ?? new Float64Array(),
    dniWM2: read.get('dni_w_m2') ?? null,
    dhiWM2: read.get('dhi_w_m2') ?? null,
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
      `this file is of latitude ${year.latitudeDegrees}; site.location.latitude is ${latitude}. Take a file of a nearer place, or correct the latitude`,
    )
  return year.weather
}

function refuse(file: string, message: string): InputError {
  return new InputError([{ file, line: null, column: null, key: '', message }])
}
