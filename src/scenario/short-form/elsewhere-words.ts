/** A block of a scenario that holds keys. */
export type Level =
  | 'root'
  | 'site'
  | 'generation'
  | 'energy_value'
  | 'location'
  | 'load'
  | 'network'
  | 'array'
  | 'visit'
  | 'option'
  | 'component'
  | 'warranty'

/** Words that people write at one level for a key that belongs elsewhere or has another name. */
export interface Elsewhere {
  /** In lower case, separated by spaces; underscores replace spaces and hyphens inside a word. */
  readonly words: string
  /** Where the key belongs; left out: at the level where the word was found. */
  readonly under?: 'root' | 'site' | 'option' | 'component'
  /** The key from there, with dots. */
  readonly to: string
  /** The value that the key takes, from the one written; left out: the same. */
  readonly as?: (value: unknown) => unknown
}

const thousandth = (value: unknown): unknown => (typeof value === 'number' ? value / 1000 : value)
const named = (value: unknown): unknown => (typeof value === 'string' ? { name: value } : value)
const inList = (value: unknown): unknown => (Array.isArray(value) ? value : [value])

/**
 * What people write, by the level where they write it. Ours: collected from words of quotes, bills and data sheets, and from
 * keys of this program one level too high or too low. For each level, first keys of other levels, then words from elsewhere.
 */
export const ELSEWHERE: Readonly<Record<Level, readonly Elsewhere[]>> = {
  root: [
    { words: 'panels panel_w generation energy_value network location load', under: 'site', to: '*' },
    { words: 'annual_kwh monthly_kwh arrays degradation as_quoted_for', under: 'site', to: 'generation.*' },
    { words: 'latitude climate', under: 'site', to: 'location.*' },
    {
      words: 'import_price_per_kwh export_price_per_kwh self_consumed price_growth',
      under: 'site',
      to: 'energy_value.*',
    },
    { words: 'phases export_limit_kw ac_limit_kw_per_phase', under: 'site', to: 'network.*' },
    ...below('call_out roof_access labour_growth', 'visit'),
    ...below('interest confidence inflation', 'reserve'),
    { words: 'name project', to: 'title' },
    { words: 'years horizon lifetime lifetime_years period study_period', to: 'horizon_years' },
    { words: 'discount interest_rate real_discount_rate', to: 'discount_rate' },
    { words: 'commissioned commissioning start_date date', to: 'start' },
    { words: 'quotes designs systems offers', to: 'options' },
    { words: 'modules number_of_panels', under: 'site', to: 'panels' },
    { words: 'yield production annual_production', under: 'site', to: 'generation.annual_kwh' },
  ],
  site: [
    ...below('annual_kwh monthly_kwh arrays losses degradation as_quoted_for includes_downtime', 'generation'),
    ...below('latitude climate', 'location'),
    ...below(
      'import_price_per_kwh export_price_per_kwh self_consumed price_growth export_price_growth',
      'energy_value',
    ),
    ...below('phases export_limit_kw ac_limit_kw_per_phase max_dc_ac_ratio', 'network'),
    { words: 'call_out roof_access', under: 'root', to: 'visit.*' },
    { words: 'modules panel_count number_of_panels', to: 'panels' },
    { words: 'panel_power panel_watts module_w', to: 'panel_w' },
    { words: 'production yield annual_production annual_yield yearly_kwh kwh_per_year', to: 'generation.annual_kwh' },
    { words: 'price tariff import_price electricity_price', to: 'energy_value.import_price_per_kwh' },
    { words: 'feed_in feed_in_tariff export_price export_tariff', to: 'energy_value.export_price_per_kwh' },
    { words: 'self_consumption self_use', to: 'energy_value.self_consumed' },
    { words: 'export_limit', to: 'network.export_limit_kw' },
    { words: 'options', under: 'root', to: 'options' },
  ],
  generation: [
    { words: 'annual yearly yearly_kwh kwh yield production kwh_per_year', to: 'annual_kwh' },
    { words: 'monthly months', to: 'monthly_kwh' },
    { words: 'file csv', to: 'hourly_csv' },
    { words: 'faces planes roofs roof', to: 'arrays' },
    { words: 'latitude climate', under: 'site', to: 'location.*' },
  ],
  energy_value: [
    { words: 'import import_price price buy tariff import_tariff', to: 'import_price_per_kwh' },
    { words: 'export export_price sell feed_in feed_in_tariff export_tariff', to: 'export_price_per_kwh' },
    { words: 'self_consumption self_use self_consumed_share', to: 'self_consumed' },
    { words: 'inflation escalation growth', to: 'price_growth' },
  ],
  location: [
    { words: 'lat', to: 'latitude' },
    { words: 'lon lng long', to: 'longitude' },
    { words: 'weather weather_file file epw csv', to: 'hourly_csv' },
    { words: 'sky zone', to: 'climate' },
  ],
  load: [
    { words: 'annual yearly_kwh kwh consumption usage', to: 'annual_kwh' },
    { words: 'profile', to: 'shape' },
    { words: 'file csv', to: 'shape.hourly_csv' },
  ],
  network: [
    { words: 'export_limit limit_kw', to: 'export_limit_kw' },
    { words: 'ac_limit ac_limit_kw', to: 'ac_limit_kw_per_phase' },
  ],
  array: [
    { words: 'count number modules', to: 'panels' },
    { words: 'power watts w wp panel_power', to: 'panel_w' },
    { words: 'pitch slope angle inclination roof_pitch', to: 'tilt' },
    { words: 'orientation direction bearing facing aspect', to: 'azimuth' },
    { words: 'shading shadow', to: 'shade' },
  ],
  visit: [
    { words: 'callout call_out_fee', to: 'call_out' },
    { words: 'roof access scaffold scaffolding', to: 'roof_access' },
  ],
  option: [
    { words: 'panels', under: 'site', to: 'panels' },
    { words: 'generation location load energy_value network', under: 'site', to: '*' },
    { words: 'annual_kwh monthly_kwh arrays degradation', under: 'site', to: 'generation.*' },
    { words: 'import_price_per_kwh export_price_per_kwh self_consumed', under: 'site', to: 'energy_value.*' },
    { words: 'call_out roof_access', under: 'root', to: 'visit.*' },
    { words: 'visit discount_rate horizon_years', under: 'root', to: '*' },
    {
      words:
        'replacement failure downtime age_years model successor replace_at_age_years on_roof needs_visit phases strings',
      under: 'component',
      to: '*',
    },
    { words: 'age', under: 'component', to: 'age_years' },
    { words: 'labour_years claim_success replacement_cover visits_covered', to: 'warranty.*' },
    { words: 'wait_for_units wait_at_most_days', to: 'visit_policy.*' },
    { words: 'mismatch_and_shade clipping conversion', to: 'design_losses.*' },
    { words: 'shade_loss shading_loss', to: 'design_losses.mismatch_and_shade' },
    { words: 'ac_kw kw power_kw rating_kw size_kw inverter_size inverter_power', to: 'inverter_kw' },
    { words: 'ac_w inverter_w', to: 'inverter_kw', as: thousandth },
    { words: 'price cost total total_price upfront installed_price investment', to: 'upfront_cost' },
    { words: 'type design system architecture', to: 'topology' },
    { words: 'title label', to: 'name' },
    { words: 'guarantee warranty_years product_warranty parts_warranty', to: 'warranty' },
    { words: 'optimiser_count number_of_optimisers', to: 'optimisers' },
    { words: 'panel_power panel_watts module_w', to: 'panel_w' },
    { words: 'extended_warranty offers warranty_extension', to: 'warranty_offers', as: inList },
    { words: 'annual_cost running_cost maintenance subscription fees', to: 'yearly_cost' },
    { words: 'maker manufacturer provider', to: 'warranty_provider', as: named },
    { words: 'installer retailer', to: 'labour_provider', as: named },
    { words: 'quality class', to: 'tier' },
  ],
  component: [
    { words: 'type', to: 'kind' },
    { words: 'inverter_kw kw rating rating_kw power_kw', to: 'ac_kw' },
    { words: 'ac_w w', to: 'ac_kw', as: thousandth },
    { words: 'quantity number units qty', to: 'count' },
    { words: 'age', to: 'age_years' },
    { words: 'guarantee warranty_years', to: 'warranty.years' },
    { words: 'years labour_years claim_success replacement_cover visits_covered', to: 'warranty.*' },
    { words: 'labour labour_each_further parts_growth', to: 'replacement.*' },
    { words: 'parts price spare replacement_cost', to: 'replacement.parts' },
    { words: 'detect_days detect_days_unmonitored respond_days repair_days claim_days', to: 'downtime.*' },
    { words: 'failed_by model_spread bad_batch none_failed_so_far records modes', to: 'failure.*' },
    { words: 'mppt mppts trackers', to: 'inputs' },
    { words: 'efficiency euro_efficiency', to: 'weighted_efficiency' },
    { words: 'upfront_cost yearly_cost monitoring', under: 'option', to: '*' },
  ],
  warranty: [
    { words: 'term length duration parts_years product', to: 'years' },
    { words: 'labour_term labour_warranty', to: 'labour_years' },
  ],
}

/** Keys that belong inside a block. */
function below(words: string, block: string): Elsewhere[] {
  return [{ words, to: `${block}.*` }]
}
