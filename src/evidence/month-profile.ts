import { sumOf } from '../numerics/sum.ts'

/**
 * Shares of a year's energy by month, January first, per cent, at latitudes north of the equator, ten degrees apart from
 * 0 to 60.
 *
 * Derived with the energy chain (E1): a plane tilted 25 degrees towards the equator, without shade or clipping, under
 * the climate `temperate` (clearness 0.47 all year); `tests/energy/month-profile.test.ts` recomputes it. The other
 * climates differ by at most 0.7 points, so one table is used for all. Against typical years of three cities (TMY3,
 * latitudes 38 to 42) no month is off by more than 1.5 points.
 *
 * @source own calculation; models as named in `src/energy/`
 */
export const MONTH_SHARES: readonly (readonly number[])[] = [
  [9.74, 8.62, 9.02, 7.86, 7.19, 6.47, 6.85, 7.62, 8.28, 9.29, 9.33, 9.73],
  [8.89, 8.18, 8.97, 8.25, 7.92, 7.3, 7.65, 8.14, 8.38, 8.93, 8.6, 8.79],
  [8.05, 7.76, 8.92, 8.6, 8.62, 8.1, 8.39, 8.62, 8.46, 8.58, 7.92, 7.96],
  [7.34, 7.3, 8.82, 8.96, 9.32, 8.94, 9.17, 9.09, 8.52, 8.2, 7.26, 7.08],
  [6.39, 6.86, 8.73, 9.37, 10.14, 9.89, 10.06, 9.65, 8.61, 7.8, 6.44, 6.06],
  [5.26, 6.2, 8.59, 9.86, 11.18, 11.11, 11.18, 10.33, 8.72, 7.4, 5.46, 4.7],
  [3.43, 5.34, 8.44, 10.61, 12.66, 12.91, 12.83, 11.37, 8.92, 6.76, 4.06, 2.67],
]

const STEP_DEGREES = 10

/**
 * Shares of a year's energy by month at a latitude: straight lines between the rows of the table, the last row beyond
 * it. South of the equator the same half a year later, which is within 0.9 points of the energy chain there.
 *
 * @param latitudeDegrees - north positive
 * @returns twelve shares from January, sum 1
 */
export function monthShares(latitudeDegrees: number): number[] {
  const place = Math.min(Math.abs(latitudeDegrees) / STEP_DEGREES, MONTH_SHARES.length - 1)
  const below = MONTH_SHARES[Math.floor(place)] ?? []
  const above = MONTH_SHARES[Math.ceil(place)] ?? []
  const weight = place - Math.floor(place)
  const north = below.map((share, month) => share * (1 - weight) + (above[month] ?? 0) * weight)
  const sum = sumOf(north)
  const later = latitudeDegrees < 0 ? 6 : 0
  return north.map((_, month) => (north[(month + later) % 12] ?? 0) / sum)
}
