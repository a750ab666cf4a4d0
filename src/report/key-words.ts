import { keyWords as unknownWords } from '../scenario/words.ts'

/** Words for the keys that are never drawn; those that are have theirs in the scenario layer. */
const WORDS: Readonly<Record<string, string>> = {
  title: 'title',
  currency: 'currency',
  'prices_from_evidence.factor': 'one US dollar of the evidence in your currency',
  start: 'month of commissioning',
  horizon_years: 'years looked at',
  discount_rate: 'discount rate',
  residual_value: 'worth left at the end',
  tier_effect: 'how much tiers differ in reliability',
  'reserve.interest': 'interest on the reserve, after inflation',
  'reserve.opening': 'in the reserve at the start',
  'reserve.confidence': 'how surely the reserve is to last',
  'reserve.inflation': 'inflation',
  panels: 'number of panels',
  topology: 'design',
  'generation.monthly_kwh': 'energy of each month',
  'generation.monthly_kwh (sum of twelve)': 'energy of a year',
  'generation.as_quoted_for': 'energy as quoted for',
  'generation.includes_downtime': 'downtime already in the quoted energy',
  'generation.degradation': 'ageing of the panels',
  'generation.losses': 'losses by soiling, DC wiring and the like',
  'generation.hourly_csv': 'file with the hours of the energy',
  'generation (sum of the hours)': 'energy of a year',
  'location.latitude': 'latitude',
  'location.climate': 'climate',
  'location.hourly_csv': 'file with the hours of the light',
  'location.monthly_ghi_kwh_m2_day (mean of twelve)': 'light on the flat',
  'location.monthly_air_temperature_c': 'air temperature',
  'load.annual_kwh': 'use of a year',
  'load.shape': 'shape of the use',
  'roof.ground_reflectance': 'light the ground sends back',
  'roof.incidence_coefficient': 'loss of light that falls at an angle',
  'roof.diffuse_taken': 'share of sky light that enters a panel',
  'roof.heat_loss.close-roof': 'cooling close to the roof',
  'roof.heat_loss.rack': 'cooling on a rack',
  'roof.heat_loss.open': 'cooling in the open',
  'roof.power_per_kelvin': 'power lost to warmth of the panels',
  'roof.daytime_warmer_k': 'warmer while the sun shines',
  'roof.ac_wiring_loss': 'loss in AC wiring',
  'roof.series_mismatch': 'mismatch of equal panels in a string',
  'roof.optimiser_efficiency': 'efficiency of an optimiser',
  'roof.shade_word.light': 'light taken by light shade',
  'roof.shade_word.moderate': 'light taken by moderate shade',
  'roof.shade_word.heavy': 'light taken by heavy shade',
  'roof.shade_impact.string': 'power lost over light lost, a string',
  'roof.shade_impact.panel': 'power lost over light lost, a panel alone',
  'roof.shade_recovered': 'share of a shade loss that tracking each panel wins back',
  'roof.shade_word_touches': 'share of panels that a shade in a word touches',
  'roof.sub_hourly_uplift': 'clipping that hourly means hide, as a factor',
  'roof.max_panels_in_string': 'panels in one string',
  'roof.accuracy.climate': 'how far a year of energy from a class of climate may be off',
  'roof.accuracy.monthly': 'how far a year of energy from months of light may be off',
  'roof.accuracy.hourly': 'how far a year of energy from hours of light may be off',
  'energy_value.self_consumed (mean of twelve)': 'share of energy used on the spot, mean of the months',
  'network.phases': 'phases of the network',
  'network.max_dc_ac_ratio': 'largest ratio of panels to inverter',
  'network.ac_limit_kw_per_phase': 'largest inverter a phase',
  'network.export_limit_kw': 'export limit',
  'network.nets_across_phases': 'meter nets across phases',
  upfront_cost: 'purchase price',
  monitoring: 'how failures are noticed',
  tier: 'class of the inverter',
  count: 'number of units',
  inputs: 'tracker inputs of an inverter',
  strings: 'strings of an inverter',
  replace_at_age_years: 'age of planned replacement',
  'restore.repair.renews': 'how much of its life a repair gives back',
  'restore.repair.parts': 'parts of a repair',
  'restore.repair.labour': 'labour of a repair',
  'restore.repair.at_most': 'repairs before a unit is replaced',
  'failure.records': 'file with the fitted failures',
  age_years: 'age at the start',
  ac_kw: 'AC power of a unit',
  'failure.model_spread': 'how much product models differ',
  'failure.early.shape': 'how fast early faults fade (shape)',
  'failure.early.life_years': 'life of units with an early fault',
  'failure.anchor.age_years': 'age at which a failed share is known',
  'failure.anchor.share': 'share failed by a known age',
  'failure.bad_batch.life_times': 'life of a unit of a bad batch, times the ordinary',
  'downtime.claim_days': 'days that a claim adds',
  'warranty.years': 'years of parts cover',
  'warranty.labour_years': 'years of labour cover',
  'warranty.parts': 'share of parts that cover pays',
  'warranty.labour': 'share of labour that cover pays',
  'warranty.replacement_cover': 'cover of a replaced unit',
  'warranty.replacement_min_years': 'least cover of a unit replaced under cover',
  'warranty.visits_covered': 'call-outs free under cover',
  'failure.cause': 'name',
  'battery.kwh': 'capacity of the battery',
  'battery.kw': 'most that the battery takes or gives',
  'battery.round_trip': 'share of what is charged that the battery gives back',
  'battery.fading': 'what the battery loses of its worth with each year of its age',
  'battery.without_sun': 'what the battery still earns without the inverter',
  'successor.surcharge': 'extra cost where the model is no longer sold',
  weighted_efficiency: 'weighted efficiency',
  share: 'share of the generation',
  restore: 'what is done after a failure',
  on_roof: 'on the roof',
  needs_visit: 'needs a visit',
  visit_policy: 'when somebody comes for failed units',
  'visit_policy.wait_for_units': 'failed units waited for',
  'visit_policy.wait_at_most_days': 'days waited at most',
  'design_losses.mismatch_and_shade': 'loss by mismatch and shade',
  'design_losses.clipping': 'loss by clipping',
  'design_losses.conversion': 'loss by conversion',
}
// a map, since a key that a file gives may be called `constructor`
const wordsByKey = new Map(Object.entries(WORDS))

/**
 * The last part of the key of an assumption, without option and component.
 *
 * @param key - e.g. `Plain string inverter / string-inverter / warranty.years`
 * @returns e.g. `warranty.years`
 */
export function tail(key: string): string {
  return key.split(' / ').at(-1) ?? key
}

/**
 * A key as a reader would say it.
 *
 * @param key - whole key or its last part
 * @returns e.g. `years of parts cover`; the key without its marks where there are no words for it
 */
export function keyWords(key: string): string {
  return keyPhrase(key) ?? tail(key).split('.').slice(-2).join(' ').replace(/[_-]/g, ' ')
}

/**
 * The phrase of a key.
 *
 * @param key - whole key or its last part
 * @returns e.g. `years of parts cover`; null where no phrase is listed
 */
export function keyPhrase(key: string): string | null {
  const last = tail(key)
  const offer = /^warranty_offers\.(\d+)\.(\w+)$/.exec(last)
  if (offer !== null) return `warranty offer ${Number(offer[1]) + 1}: ${(offer[2] ?? '').replace(/_/g, ' ')}`
  const mode = /^failure\.modes\.(\d+)\.(.+)$/.exec(last)
  if (mode !== null) return `${keyWords(`failure.${mode[2] ?? ''}`)}, cause ${Number(mode[1]) + 1}`
  const later = /^later\.(.+)\.(year|chance|cost)$/.exec(last)
  if (later !== null) return `${keyWords(`later.${later[2] ?? ''}`)}: ${later[1]}`
  const successor = /^successor\.chance\.([\d.]+)$/.exec(last)
  if (successor !== null) return `share of models no longer sold after ${successor[1]} years`
  const failedBy = /failed_by\.(\d+)$/.exec(last)
  if (failedBy !== null) return `share failed by year ${failedBy[1]}`
  const delay = /^(.+)\.(median|p90)$/.exec(last)
  if (delay !== null) return `${keyWords(delay[1] ?? '')} (${delay[2] === 'median' ? 'half' : '9 of 10'} within)`
  const array = /^site\.generation\.arrays (.+)$/.exec(last)
  if (array !== null) return `array ${array[1]}`
  const known = unknownWords(last)
  return known !== last ? known : (wordsByKey.get(last.replace(/^site\./, '')) ?? null)
}
