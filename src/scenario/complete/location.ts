import { figureOf } from '../../evidence/index.ts'
import { sumOf } from '../../numerics/sum.ts'
import type { HourlyFiles } from '../files/hourly-files.ts'
import type { Location, Sky } from '../roof.ts'
import type { GivenScenario } from '../schema/scenario.ts'
import type { Resolution } from './resolution.ts'

/**
 * Where the roof is and what is known of its sky, complete (E1, E7).
 *
 * @param given - the scenario as written, without problems
 * @param resolution - takes assumptions and notes
 * @param files - hourly light, where it is named
 */
export function completeLocation(given: GivenScenario, resolution: Resolution, files: HourlyFiles): Location {
  const { location } = given.site
  const latitude = location?.latitude
  if (location === undefined || latitude === undefined) throw new RangeError('arrays without a place passed the check')
  resolution.value({ key: 'site.location.latitude', given: latitude, filling: NEVER })
  const airC = location.monthly_air_temperature_c ?? null
  if (airC === null && files.weather?.airC == null)
    resolution.word('site.location.monthly_air_temperature_c', undefined, 'from the latitude')
  return { latitudeDegrees: latitude, sky: completeSky(location, resolution, files), airC }
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
    const mean = sumOf(location.monthly_ghi_kwh_m2_day) / 12
    const key = 'site.location.monthly_ghi_kwh_m2_day (mean of twelve)'
    resolution.value({ key, given: mean, filling: NEVER })
    return { form: 'monthly', ghiKwhM2Day: location.monthly_ghi_kwh_m2_day }
  }
  const climate = location.climate ?? 'temperate'
  resolution.word('site.location.climate', location.climate, climate)
  resolution.note(
    'typical-climate',
    `The light is that of a typical climate, not of this place: the energy of the roof is known to about ${Math.round(100 * figureOf(null, 'roof.accuracy.climate').value)} %.`,
  )
  return { form: 'climate', climate }
}

// A placeholder where the user gave the value and nothing has to be filled.
const NEVER = { choice: 0, remark: '' }
