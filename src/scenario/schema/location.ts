import { number, oneOf, text } from './leaf.ts'
import { twelve } from './range.ts'
import { block, type Flaw } from './walk.ts'

/** The keys that state the light, best first. */
export const SKIES = ['monthly_ghi_kwh_m2_day', 'climate', 'hourly_csv'] as const

/** Where the roof is and what is known of its sky: exactly one of the three skies. */
export const locationBlock = block(
  {
    latitude: number({ min: -65, max: 65 }, 'degrees')
      .optional()
      .meta({ description: 'Degrees, north positive.', phrase: 'latitude' }),
    longitude: number({ min: -180, max: 180 }, 'degrees').optional().meta({
      description: 'Degrees, east positive; with utc_offset_hours, for an hourly file in clock time.',
      phrase: 'longitude',
    }),
    utc_offset_hours: number({ min: -12, max: 14 }, 'hours').optional().meta({
      description: 'Hours by which standard time is ahead of universal time; left out: the file is in solar time.',
      phrase: 'hours ahead of universal time',
    }),
    monthly_ghi_kwh_m2_day: twelve(number({ min: 0, max: 12 }, 'kWh/m² a day'))
      .optional()
      .meta({
        description: 'Global horizontal irradiation, twelve means from January, kWh/m² a day; energy within about 4 %.',
        phrase: 'global horizontal irradiation, month by month',
        whole: 'global horizontal irradiation',
      }),
    climate: oneOf(['cloudy', 'temperate', 'sunny', 'dry'])
      .optional()
      .meta({ description: 'A typical climate where no light is known; energy within about 12 %.', phrase: 'climate' }),
    hourly_csv: text().optional().meta({
      description:
        'Hourly year of light: EPW, or CSV with ghi_w_m2 and, if known, dni_w_m2, dhi_w_m2, air_temperature_c.',
      phrase: 'file with the hours of the light',
    }),
    monthly_air_temperature_c: twelve(number({ min: -60, max: 60 }, '°C'))
      .optional()
      .meta({
        description: 'Twelve means from January; left out: a rough one from the latitude.',
        phrase: 'air temperature',
      }),
  },
  location => {
    const used = SKIES.filter(sky => location[sky] !== undefined)
    const [first, second] = used
    const flaws: Flaw[] = []
    if (second !== undefined)
      flaws.push({ path: [second], message: `"${second}" and "${first}" both state the light; keep one` })
    const clock = ['longitude', 'utc_offset_hours'] as const
    const [alone, other] = location.longitude === undefined ? [clock[1], clock[0]] : clock
    if (location[alone] !== undefined && location[other] === undefined)
      flaws.push({ path: [alone], message: `"${alone}" means something only with "${other}"; give both or neither` })
    return flaws
  },
)
