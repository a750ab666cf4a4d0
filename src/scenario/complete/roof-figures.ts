import { figureOf } from '../../evidence/index.ts'
import type { RoofFigures } from '../roof.ts'

/**
 * The figures of the roof chain (E1): the user's own where given, else those of the evidence.
 *
 * @param given - values of the scenario by key below `roof.`, e.g. `ground_reflectance`
 * @returns every figure the chain reads
 */
export function roofFigures(given: Readonly<Record<string, number>> = {}): RoofFigures {
  const at = (key: string): number => given[key] ?? figureOf(null, `roof.${key}`).value
  const recovered = figureOf(null, 'roof.shade_recovered')
  return {
    groundReflectance: at('ground_reflectance'),
    incidenceCoefficient: at('incidence_coefficient'),
    diffuseTaken: at('diffuse_taken'),
    heatLoss: { 'close-roof': at('heat_loss.close-roof'), rack: at('heat_loss.rack'), open: at('heat_loss.open') },
    powerPerKelvin: at('power_per_kelvin'),
    daytimeWarmerK: at('daytime_warmer_k'),
    acWiringLoss: at('ac_wiring_loss'),
    seriesMismatch: at('series_mismatch'),
    optimiserEfficiency: at('optimiser_efficiency'),
    shadeWordShare: {
      light: at('shade_word.light'),
      moderate: at('shade_word.moderate'),
      heavy: at('shade_word.heavy'),
    },
    shadeImpact: { string: at('shade_impact.string'), panel: at('shade_impact.panel') },
    shadeRecovered: { low: recovered.low ?? recovered.value, high: recovered.high ?? recovered.value },
    shadeWordTouches: at('shade_word_touches'),
    subHourlyUplift: at('sub_hourly_uplift'),
    climateClearness: {
      cloudy: at('climate.cloudy'),
      temperate: at('climate.temperate'),
      sunny: at('climate.sunny'),
      dry: at('climate.dry'),
    },
    maxPanelsInString: at('max_panels_in_string'),
    accuracy: { hourly: at('accuracy.hourly'), monthly: at('accuracy.monthly'), climate: at('accuracy.climate') },
  }
}
