/**
 * What a panel gives under given light and air (E1): rated power × light/1000 × (1 + γ(Tc − 25)), with the cells warmer
 * than the air by light/U.
 *
 * @param lightWM2 - light taken in by the panel, W/m², >= 0
 * @param airC - air temperature, °C
 * @param heatLoss - U, W/m²K, > 0: how well the air cools the panel
 * @param powerPerKelvin - γ, per K, below 0
 * @returns power as a share of the rated power at 1000 W/m² and 25 °C, >= 0
 * @source cell temperature: Faiman (2008), Assessing the outdoor operating temperature of photovoltaic modules, Progress
 *   in Photovoltaics 16, 307–315, without its wind term; power: Evans (1981), Simplified method for predicting
 *   photovoltaic array output, Solar Energy 27, 555–560
 */
export function panelPowerShare(lightWM2: number, airC: number, heatLoss: number, powerPerKelvin: number): number {
  const cellC = airC + lightWM2 / heatLoss
  return Math.max(0, (lightWM2 / 1000) * (1 + powerPerKelvin * (cellC - 25)))
}
