import { number, oneOf, text } from './leaf.ts'
import { twelve } from './range.ts'
import { block, type Flaw } from './walk.ts'

/** The keys that state the light, best first. */
export const SKIES = ['monthly_ghi_kwh_m2_day', 'climate', 'hourly_csv'] as const

/** Where the roof stands and what is known of its sky (section 6): exactly one of the three skies. */
export const locationBlock = block(
  {
    latitude: number({ min: -65, max: 65 }, 'degrees').optional().describe('Degrees, north positive.'),
    longitude: number({ min: -180, max: 180 }, 'degrees')
      .optional()
      .describe('Degrees, east positive; with utc_offset_hours, for an hourly file in clock time.'),
    utc_offset_hours: number({ min: -12, max: 14 }, 'hours')
      .optional()
      .describe('Hours by which standard time is ahead of universal time; left out: the file is in solar time.'),
    monthly_ghi_kwh_m2_day: twelve(number({ min: 0, max: 12 }, 'kWh/m² a day'))
      .optional()
      .describe('Light on the flat, twelve means from January, kWh/m² a day; energy within about 4 %.'),
    climate: oneOf(['cloudy', 'temperate', 'sunny', 'dry'])
      .optional()
      .describe('A typical climate where no light is known; energy within about 12 %.'),
    hourly_csv: text()
      .optional()
      .describe(
        'Hourly year of light: EPW, or CSV with ghi_w_m2 and, if known, dni_w_m2, dhi_w_m2, air_temperature_c.',
      ),
    monthly_air_temperature_c: twelve(number({ min: -60, max: 60 }, '°C'))
      .optional()
      .describe('Twelve means from January; left out: a rough one from the latitude.'),
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
