/** What a key means, as the report calls an unknown. */
const KEY_WORDS: Readonly<Record<string, string>> = {
  'site.energy_value.import_price_per_kwh': 'price of energy bought',
  'site.energy_value.export_price_per_kwh': 'price of energy sold',
  'site.energy_value.self_consumed': 'share of energy used on the spot',
  'site.energy_value.price_growth': 'growth of the price of energy bought',
  'site.energy_value.export_price_growth': 'growth of the price of energy sold',
  'visit.call_out': 'call-out',
  'visit.roof_access': 'roof access',
  'visit.labour_growth': 'growth of labour prices',
  yearly_cost: 'yearly cost',
  'later.year': 'year of a later purchase',
  'later.chance': 'chance of a later purchase',
  'later.cost': 'cost of a later purchase',
  'battery.value_per_day': 'what the battery earns a day',
  'warranty_provider.exit_rate_per_year': 'chance that the maker stops',
  'labour_provider.exit_rate_per_year': 'chance that the installer stops',
  'failure.shape': 'how sharply failures set in (shape)',
  'failure.characteristic_life_years': 'characteristic life',
  'failure.b10_years': 'age by which 10 % have failed',
  'failure.mean_life_years': 'mean life',
  'failure.failed_by': 'share failed by an age',
  'failure.susceptible': 'share of units that can fail by a cause',
  'failure.early.susceptible': 'share of early failures',
  'failure.chance.rate_per_year': 'rate of chance failures',
  'failure.wear_out.shape': 'how sharply wear-out sets in (shape)',
  'failure.wear_out.life_years': 'wear-out life',
  'failure.bad_batch.chance': 'chance of a bad batch',
  'failure.bad_batch.affects': 'share of units in a bad batch',
  'downtime.detect_days': 'days until a failure is noticed',
  'downtime.detect_days_unmonitored': 'days until a failure is noticed without monitoring',
  'downtime.respond_days': 'days until somebody comes',
  'downtime.repair_days': 'days of the repair itself',
  'replacement.parts': 'parts for a replacement',
  'replacement.labour': 'labour for a replacement',
  'replacement.labour_each_further': 'labour for each further unit of a visit',
  'replacement.parts_growth': 'growth of parts prices',
  'warranty.claim_success': 'share of claims granted',
  takes_string_down: 'share of optimiser failures that stop the string',
}
// a map, since a key that a file gives may be called `constructor`
const wordsByKey = new Map(Object.entries(KEY_WORDS))

/**
 * A key in words.
 *
 * @param key - key from the root, or from the component or option
 * @returns the words; the key itself where there are none
 */
export function keyWords(key: string): string {
  return wordsByKey.get(key) ?? key
}
