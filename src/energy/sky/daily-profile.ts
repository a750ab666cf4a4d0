/** How a day's light is spread over its hours (E1). */

/**
 * Light of an hour as a share of the day's light (E1).
 *
 * @param hourAngle - radians from noon, inside the day
 * @param sunsetHourAngle - radians, (0, π]
 * @returns share a full hour, >= 0
 * @source Collares-Pereira and Rabl (1979), The average distribution of solar radiation, Solar Energy 22, 155–164
 */
export function hourlyGlobalShare(hourAngle: number, sunsetHourAngle: number): number {
  const turned = sunsetHourAngle - Math.PI / 3
  const a = 0.409 + 0.5016 * Math.sin(turned)
  const b = 0.6609 - 0.4767 * Math.sin(turned)
  return (a + b * Math.cos(hourAngle)) * hourlyDiffuseShare(hourAngle, sunsetHourAngle)
}

/**
 * Diffuse light of an hour as a share of the day's diffuse light (E1).
 *
 * @param hourAngle - radians from noon, inside the day
 * @param sunsetHourAngle - radians, (0, π]
 * @returns share a full hour, >= 0
 * @source Liu and Jordan (1960), The interrelationship and characteristic distribution of direct, diffuse and total
 *   solar radiation, Solar Energy 4, 1–19
 */
export function hourlyDiffuseShare(hourAngle: number, sunsetHourAngle: number): number {
  const above = Math.cos(hourAngle) - Math.cos(sunsetHourAngle)
  const all = Math.sin(sunsetHourAngle) - sunsetHourAngle * Math.cos(sunsetHourAngle)
  return Math.max(0, ((Math.PI / 24) * above) / all)
}
