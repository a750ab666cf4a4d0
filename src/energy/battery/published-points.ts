/**
 * Points of self-consumption that a battery adds, by its size: kWh of capacity per kW of panels, share of generation.
 *
 * @source Luthander, Widén, Nilsson, Palm (2015), Photovoltaic self-consumption in buildings: a review, Applied Energy
 * 142, abstract: 13 to 24 percentage points with 0.5 to 1 kWh per kW; 0 at 0 and flat beyond 1 are ours
 */
const POINTS = [
  [0, 0],
  [0.5, 0.13],
  [1, 0.24],
] as const

/**
 * Share of the generation that a battery lets a household use in addition (O7): straight lines between the published
 * points, flat beyond the last.
 *
 * @param kwhPerKw - capacity by rated power of the panels, kWh per kW, >= 0
 * @returns share, [0, 0.24]
 * @example addedSelfConsumption(0.75) // 0.185
 */
export function addedSelfConsumption(kwhPerKw: number): number {
  let [fromSize, fromShare]: readonly [number, number] = POINTS[0]
  for (const [size, share] of POINTS) {
    if (kwhPerKw <= size) {
      return size === fromSize ? share : fromShare + ((share - fromShare) * (kwhPerKw - fromSize)) / (size - fromSize)
    }
    fromSize = size
    fromShare = share
  }
  return fromShare
}
