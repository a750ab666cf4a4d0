/**
 * How much of the light comes from the whole sky and not from the sun's disc (E1).
 *
 * @source Erbs, Klein and Duffie (1982), Estimation of the diffuse radiation fraction for hourly, daily and
 *   monthly-average global radiation, Solar Energy 28, 293–302
 */

/** Sunset hour angle that separates winter from the rest in the daily correlation, radians (81.4 degrees). */
const WINTER_SUNSET = (81.4 * Math.PI) / 180

/**
 * Share of a day's light that is diffuse (E1).
 *
 * @param clearness - daily irradiation over that above the air, >= 0
 * @param sunsetHourAngle - radians
 * @returns share, [0, 1]
 * @source Erbs, Klein and Duffie (1982), daily correlation
 */
export function dailyDiffuseFraction(clearness: number, sunsetHourAngle: number): number {
  const k = clearness
  const share =
    sunsetHourAngle <= WINTER_SUNSET
      ? k < 0.715
        ? 1 + k * (-0.2727 + k * (2.4495 + k * (-11.9514 + k * 9.3879)))
        : 0.143
      : k < 0.722
        ? 1 + k * (0.2832 + k * (-2.5557 + k * 0.8448))
        : 0.175
  return Math.min(1, Math.max(0, share))
}

/**
 * Share of an hour's light that is diffuse, for a file with global light only (E7).
 *
 * @param clearness - hourly irradiation over that above the air, >= 0
 * @returns share, [0, 1]
 * @source Erbs, Klein and Duffie (1982), hourly correlation
 * @example hourlyDiffuseFraction(0.1) // 0.991
 */
export function hourlyDiffuseFraction(clearness: number): number {
  const k = clearness
  if (k <= 0.22) return 1 - 0.09 * k
  if (k <= 0.8) return 0.9511 + k * (-0.1604 + k * (4.388 + k * (-16.638 + k * 12.336)))
  return 0.165
}
