/**
 * Draws the invented hourly years of the examples: light and air of a workshop's place, its use of energy, and what a
 * small array there gave. Nothing here is measured.
 *
 *   npx tsx examples/make-hourly-year.ts
 */
import { writeFileSync } from 'node:fs'
import { dailyExtraterrestrialKwhM2, extraterrestrialNormalWM2, sunsetHourAngle } from '../src/energy/sky/extraterrestrial.ts'
import { hourlyGlobalShare } from '../src/energy/sky/daily-profile.ts'
import { declination, RADIANS_PER_DEGREE } from '../src/energy/sky/sun-position.ts'
import { openStream, streamKey } from '../src/numerics/random/streams.ts'

const LATITUDE = 48.6 * RADIANS_PER_DEGREE
const stream = openStream(streamKey(2026, 'hourly year'), 0)

const light: string[] = ['ghi_w_m2,air_temperature_c']
const use: string[] = ['kwh']
const gave: string[] = ['kwh']
let weather = 0
for (let day = 0; day < 365; day++) {
  // Clearness of the day: dull and clear spells of a few days.
  weather = 0.6 * weather + 0.8 * (stream.uniform() + stream.uniform() + stream.uniform() - 1.5)
  const clearness = Math.min(0.74, Math.max(0.08, 0.42 + 0.06 * Math.sin((2 * Math.PI * (day - 80)) / 365) + 0.26 * weather))
  const sun = declination(day + 1)
  const sunset = sunsetHourAngle(LATITUDE, sun)
  const dayKwh = clearness * dailyExtraterrestrialKwhM2(LATITUDE, sun, extraterrestrialNormalWM2(day + 1))
  const meanC = 10 - 9.5 * Math.cos((2 * Math.PI * (day - 18)) / 365) + 2 * weather
  const workday = day % 7 < 5
  for (let hour = 0; hour < 24; hour++) {
    const angle = (hour + 0.5 - 12) * 15 * RADIANS_PER_DEGREE
    const share = Math.abs(angle) < sunset ? hourlyGlobalShare(angle, sunset) : 0
    const watts = Math.round(1000 * dayKwh * share)
    light.push(`${watts},${(meanC + 4 * Math.cos(((hour - 14) / 12) * Math.PI)).toFixed(1)}`)
    const working = workday && hour >= 7 && hour < 17
    use.push((0.9 + (working ? 9 + 5 * stream.uniform() : 0) + 0.4 * stream.uniform()).toFixed(2))
    gave.push((watts * 0.0052 * (1 - 0.004 * Math.max(0, meanC + watts / 25 - 25))).toFixed(3))
  }
}
writeFileSync('examples/workshop-light.csv', `${light.join('\n')}\n`)
writeFileSync('examples/workshop-use.csv', `${use.join('\n')}\n`)
writeFileSync('examples/measured-year.csv', `${gave.join('\n')}\n`)
