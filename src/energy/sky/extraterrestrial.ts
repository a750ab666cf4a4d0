/** Sunshine above the air: the most a day could bring, and how long the day is (E1). */

/** Solar constant, W/m². @source as used with the correlations that follow: Duffie and Beckman (2013), section 1.2 */
export const SOLAR_CONSTANT_W_M2 = 1367

/**
 * Representative day of each month as day of the year, January first (E1).
 *
 * @source Klein (1977), Calculation of monthly average insolation on tilted surfaces, Solar Energy 19, 325–329
 */
export const REPRESENTATIVE_DAYS: readonly number[] = [17, 47, 75, 105, 135, 162, 198, 228, 258, 288, 318, 344]

/**
 * Sunshine at right angles to the sun above the air (E1).
 *
 * @param dayOfYear - 1 for the first of January
 * @returns W/m²
 * @source Duffie and Beckman (2013), equation 1.4.1: 1 + 0.033 cos(2πn/365)
 */
export function extraterrestrialNormalWM2(dayOfYear: number): number {
  return SOLAR_CONSTANT_W_M2 * (1 + 0.033 * Math.cos((2 * Math.PI * dayOfYear) / 365))
}

/**
 * Half the length of the day as an angle (E1): acos(−tan φ tan δ).
 *
 * @param latitude - radians
 * @param declination - radians
 * @returns radians, [0, π]; 0 in the polar night, π in the polar day
 */
export function sunsetHourAngle(latitude: number, declination: number): number {
  return Math.acos(Math.min(1, Math.max(-1, -Math.tan(latitude) * Math.tan(declination))))
}

/**
 * Extraterrestrial irradiation of a horizontal square metre in a day (E1).
 *
 * @param latitude - radians
 * @param declination - radians
 * @param normalWM2 - sunshine above the air, W/m²
 * @returns kWh/m² a day, >= 0; 0 in the polar night
 * @source Duffie and Beckman (2013), equation 1.10.3
 */
export function dailyExtraterrestrialKwhM2(latitude: number, declination: number, normalWM2: number): number {
  const sunset = sunsetHourAngle(latitude, declination)
  const joined =
    Math.cos(latitude) * Math.cos(declination) * Math.sin(sunset) + sunset * Math.sin(latitude) * Math.sin(declination)
  return Math.max(0, ((24 / Math.PI) * normalWM2 * joined) / 1000)
}
