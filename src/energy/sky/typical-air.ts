import { MONTHS_PER_YEAR } from '../../units.ts'

/**
 * A rough air temperature of a month where none is given: 27 °C up to 20 degrees of latitude, 0.6 K less for each
 * degree beyond, swinging by 0.22 K a degree of latitude about it, warmest a month after the longest day. A judgement
 * of ours; an error of 6 K changes the energy by 2 %.
 *
 * @param latitudeDegrees - north positive
 * @param month - 0 = January
 * @returns monthly mean, °C
 */
export function typicalAirC(latitudeDegrees: number, month: number): number {
  const away = Math.abs(latitudeDegrees)
  const yearMean = 27 - 0.6 * Math.max(0, away - 20)
  const warmest = latitudeDegrees >= 0 ? 6 : 0
  return yearMean + 0.22 * away * Math.cos((2 * Math.PI * (month - warmest)) / MONTHS_PER_YEAR)
}
