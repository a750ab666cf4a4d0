/**
 * Least energy of a stated year, kWh (N4). Ours: far below any roof, and far above the sums whose quotients no longer fit
 * a number: 1e10 kWh over months of 1e-300 used to give infinite months.
 */
export const LEAST_YEAR_KWH = 0.001

/**
 * What is wrong with the parts of a year that add up to too little to be energy, or to be rescaled (N4).
 *
 * @param parts - e.g. `the twelve months`
 * @param kwh - months or hours, each >= 0
 * @returns words for a message; null where the sum is at least `LEAST_YEAR_KWH`
 * @example tooLittleEnergy('the months', [0, 0.5]) // null
 */
export function tooLittleEnergy(parts: string, kwh: Iterable<number>): string | null {
  let sum = 0
  for (const part of kwh) sum += part
  if (sum >= LEAST_YEAR_KWH) return null
  return `${parts} add up to ${sum} kWh; allowed: at least ${LEAST_YEAR_KWH} kWh in the year; check the figures and their unit`
}
