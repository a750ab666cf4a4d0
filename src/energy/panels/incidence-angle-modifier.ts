/**
 * Incidence angle modifier (E1): share of direct light that enters the glass of a panel, 1 − b₀(1/cos θ − 1).
 *
 * @param cosIncidence - between sun and plane
 * @param b0 - coefficient of the glass, about 0.05
 * @returns share, [0, 1]; 0 from the edge on
 * @source Souka and Safwat (1966), Determination of the optimum orientations for the double-exposure flat-plate collector,
 *   Solar Energy 10, 170–174; ASHRAE standard 93
 */
export function incidenceAngleModifier(cosIncidence: number, b0: number): number {
  if (cosIncidence <= 0) return 0
  return Math.max(0, 1 - b0 * (1 / cosIncidence - 1))
}
