import type { Answered } from './place-lines.ts'

/** What people write, and what is answered: ours, from words of quotes, bills and data sheets. */
export const ANSWERS: readonly Answered[] = [
  {
    at: 'root',
    line: 'panels: 20',
    without: [{ at: 'site', key: 'panels' }],
    message: 'unknown key "panels" here; under "site" write  panels: 20',
  },
  {
    at: 'root',
    line: 'annual_kwh: 6500',
    without: [{ at: 'site', key: 'generation' }],
    message: 'unknown key "annual_kwh" here; under "site" write  generation: {annual_kwh: 6500}',
  },
  {
    at: 'root',
    line: 'latitude: 47',
    message: 'unknown key "latitude" here; under "site" write  location: {latitude: 47}',
  },
  {
    at: 'root',
    line: 'self_consumed: 0.30',
    message:
      'unknown key "self_consumed" here; under "site" write  energy_value: {import_price_per_kwh: 0.3, export_price_per_kwh: 0.08, self_consumed: 0.3}',
  },
  { at: 'root', line: 'call_out: 140', message: 'unknown key "call_out" here; write  visit: {call_out: 140}' },
  { at: 'root', line: 'years: 20', message: 'unknown key "years" here; write  horizon_years: 20' },
  { at: 'root', line: 'name: Mill Lane', message: 'unknown key "name" here; write  title: Mill Lane' },
  { at: 'root', line: 'start: March 2027', message: 'found "March 2027"; write  start: 2027-03' },
  { at: 'root', line: 'start: 03/2027', message: 'found "03/2027"; write  start: 2027-03' },
  { at: 'root', line: 'start: 2027-03-15', message: 'found "2027-03-15"; write  start: 2027-03' },
  { at: 'root', line: 'currency: euro', message: 'found "euro"; write  currency: EUR' },
  { at: 'root', line: 'currency: eur', message: 'found "eur"; write  currency: EUR' },
  {
    at: 'root',
    line: 'prices_from_evidence: 0.92',
    message: 'found 0.92; write  prices_from_evidence: {factor: 0.92}',
  },
  { at: 'root', line: 'visit: 140', message: 'found 140; write  visit: {call_out: 140}' },
  {
    at: 'root',
    line: 'horizon_years: 25 years',
    message: 'found "25 years"; allowed: a whole number from 1 to 60 years; write 25',
  },
  {
    at: 'root',
    line: 'discount_rate: 4',
    message: 'found 4; allowed: a yearly rate from -50% to 50%, written like 2% or 0.02; if you mean 4 %, write 4%',
  },
  {
    at: 'root',
    line: 'discount_rate: 4,5%',
    message: 'found "4,5%"; allowed: a yearly rate from -50% to 50%, written like 2% or 0.02; write 4.5%',
  },
  { at: 'root', line: 'discount: 3%', message: 'unknown key "discount" here; write  discount_rate: 3%' },
  {
    at: 'root',
    line: 'export_limit_kw: 5',
    message: 'unknown key "export_limit_kw" here; under "site" write  network: {export_limit_kw: 5}',
  },
  {
    at: 'root',
    line: 'options: {A: {topology: string, upfront_cost: 6900, inverter_kw: 5}}',
    message: 'found a block of keys; write  options: [{name: A, topology: string, upfront_cost: 6900, inverter_kw: 5}]',
  },
  {
    at: 'root',
    line: 'options: {name: A, topology: string, upfront_cost: 6900, inverter_kw: 5}',
    message: 'found a block of keys; write  options: [{name: A, topology: string, upfront_cost: 6900, inverter_kw: 5}]',
  },
  {
    at: 'site',
    line: 'annual_kwh: 9400',
    without: [{ at: 'site', key: 'generation' }],
    message: 'unknown key "annual_kwh" here; write  generation: {annual_kwh: 9400}',
  },
  {
    at: 'site',
    line: 'monthly_kwh: [1,2,3,4,5,6,6,5,4,3,2,1]',
    without: [{ at: 'site', key: 'generation' }],
    message: 'unknown key "monthly_kwh" here; write  generation: {monthly_kwh: [1, 2, 3, 4, 5, 6, 6, 5, 4, 3, 2, 1]}',
  },
  { at: 'site', line: 'latitude: -33.9', message: 'unknown key "latitude" here; write  location: {latitude: -33.9}' },
  { at: 'site', line: 'climate: dry', message: 'unknown key "climate" here; write  location: {climate: dry}' },
  {
    at: 'site',
    line: 'import_price_per_kwh: 0.31',
    message:
      'unknown key "import_price_per_kwh" here; site.energy_value.import_price_per_kwh says it already: leave this one out',
  },
  {
    at: 'site',
    line: 'self_consumption: 35%',
    message:
      'unknown key "self_consumption" here; write  energy_value: {import_price_per_kwh: 0.3, export_price_per_kwh: 0.08, self_consumed: 35%}',
  },
  {
    at: 'site',
    line: 'export_limit_kw: 5',
    message: 'unknown key "export_limit_kw" here; write  network: {export_limit_kw: 5}',
  },
  {
    at: 'site',
    line: 'modules: 20',
    without: [{ at: 'site', key: 'panels' }],
    message: 'unknown key "modules" here; write  panels: 20',
  },
  { at: 'site', line: 'panels: 20 x 330 W', message: 'found "20 x 330 W"; write  panels: 20' },
  {
    at: 'site',
    line: 'production: 9400 kWh',
    without: [{ at: 'site', key: 'generation' }],
    message: 'unknown key "production" here; write  generation: {annual_kwh: 9400}',
  },
  { at: 'site', line: 'generation: 9400', message: 'found 9400; write  generation: {annual_kwh: 9400}' },
  {
    at: 'site',
    line: 'generation: [250, 360, 550, 690, 780, 790, 800, 730, 580, 420, 280, 210]',
    message:
      'found a list of 12; write  generation: {monthly_kwh: [250, 360, 550, 690, 780, 790, 800, 730, 580, 420, 280, 210]}',
  },
  {
    at: 'site',
    line: 'generation: {annual_kwh: 9.400 kWh}',
    mended: 'generation: {annual_kwh: 9400}',
    message:
      'found "9.400 kWh"; allowed: a number from 0.001 to 10,000,000,000 kWh; write 9.4, or 9400 if the point parts thousands',
  },
  {
    at: 'site',
    line: 'generation: {yearly_kwh: 9400}',
    mended: 'generation: {annual_kwh: 9400}',
    message: 'unknown key "yearly_kwh" here; write  annual_kwh: 9400',
  },
  {
    at: 'site',
    line: 'energy_value: 0.30',
    message:
      'found 0.3; write  energy_value: {import_price_per_kwh: 0.3, export_price_per_kwh: 0}   # in place of 0: what is paid for a kWh sold',
  },
  {
    at: 'site',
    line: 'energy_value: {import_price_per_kwh: "0,30", export_price_per_kwh: 0.08}',
    mended: 'energy_value: {import_price_per_kwh: 0.30, export_price_per_kwh: 0.08}',
    message: 'found "0,30"; allowed: a number from 0 to 1,000 a kWh; write 0.30',
  },
  {
    at: 'site',
    line: 'energy_value: {import_price_per_kwh: €0.30, export_price_per_kwh: 0.08}',
    mended: 'energy_value: {import_price_per_kwh: 0.30, export_price_per_kwh: 0.08}',
    message: 'found "€0.30"; allowed: a number from 0 to 1,000 a kWh; write 0.30',
  },
  {
    at: 'site',
    line: 'energy_value: {import_price_per_kwh: 0.30, export_price_per_kwh: 0.08, self_consumed: 35}',
    mended: 'energy_value: {import_price_per_kwh: 0.30, export_price_per_kwh: 0.08, self_consumed: 35%}',
    message: 'found 35; allowed: a share from 0% to 100%, written like 12% or 0.12; if you mean 35 %, write 35%',
  },
  { at: 'site', line: 'location: -33.9', message: 'found -33.9; write  location: {latitude: -33.9}' },
  { at: 'site', line: 'location: dry', message: 'found "dry"; write  location: {climate: dry}' },
  {
    at: 'site',
    line: 'call_out: 140',
    message: 'unknown key "call_out" here; at the left edge write  visit: {call_out: 140}',
  },
  { at: 'array', line: 'shade: yes', message: 'found "yes"; write  shade: light   # none, light, moderate or heavy' },
  { at: 'array', line: 'shade: no', message: 'found "no"; write  shade: none   # none, light, moderate or heavy' },
  { at: 'array', line: 'tilt: flat', message: 'found "flat"; write  tilt: 0' },
  { at: 'array', line: 'tilt: 25°', message: 'found "25°"; allowed: a number from 0 to 90 degrees; write 25' },
  {
    at: 'array',
    line: 'azimuth: 180 degrees',
    message: 'found "180 degrees"; allowed: a number from 0 to 360 degrees; write 180',
  },
  {
    at: 'array',
    line: 'orientation: north-west',
    without: [{ at: 'array', key: 'azimuth' }],
    message: 'unknown key "orientation" here; write  azimuth: north-west',
  },
  {
    at: 'array',
    line: 'pitch: 25',
    without: [{ at: 'array', key: 'tilt' }],
    message: 'unknown key "pitch" here; write  tilt: 25',
  },
  {
    at: 'array',
    line: 'wp: 330',
    without: [{ at: 'array', key: 'panel_w' }],
    message: 'unknown key "wp" here; write  panel_w: 330',
  },
  {
    at: 'array',
    line: 'count: 20',
    without: [{ at: 'array', key: 'panels' }],
    message: 'unknown key "count" here; write  panels: 20',
  },
  {
    at: 'option',
    line: 'price: 6900',
    without: [{ at: 'option', key: 'upfront_cost' }],
    message: 'unknown key "price" here; write  upfront_cost: 6900',
  },
  {
    at: 'option',
    line: 'upfront_cost: €6900',
    message: 'found "€6900"; allowed: an amount of money from 0 to 1,000,000,000; write 6900',
  },
  {
    at: 'option',
    line: 'upfront_cost: 6,900 EUR',
    message: 'found "6,900 EUR"; allowed: an amount of money from 0 to 1,000,000,000; write 6900',
  },
  {
    at: 'option',
    line: 'panels: 20',
    message: 'unknown key "panels" here; site.panels says it already: leave this one out',
  },
  {
    at: 'option',
    line: 'panels: 20',
    without: [{ at: 'site', key: 'panels' }],
    message: 'unknown key "panels" here; under "site" write  panels: 20',
  },
  {
    at: 'option',
    line: 'annual_kwh: 9400',
    without: [{ at: 'site', key: 'generation' }],
    message: 'unknown key "annual_kwh" here; under "site" write  generation: {annual_kwh: 9400}',
  },
  {
    at: 'option',
    line: 'ac_kw: 5',
    without: [{ at: 'option', key: 'inverter_kw' }],
    message: 'unknown key "ac_kw" here; write  inverter_kw: 5',
  },
  {
    at: 'option',
    line: 'inverter_w: 5000',
    without: [{ at: 'option', key: 'inverter_kw' }],
    message: 'unknown key "inverter_w" here; write  inverter_kw: 5',
  },
  { at: 'option', line: 'inverter_kw: 5000', message: 'found 5000 kW; write  inverter_kw: 5' },
  {
    at: 'option',
    line: 'type: string',
    without: [{ at: 'option', key: 'topology' }],
    message: 'unknown key "type" here; write  topology: string',
  },
  { at: 'option', line: 'guarantee: 10 years', message: 'unknown key "guarantee" here; write  warranty: 10' },
  {
    at: 'option',
    line: 'labour_years: 2',
    message: 'unknown key "labour_years" here; write  warranty: {labour_years: 2}',
  },
  {
    at: 'option',
    line: 'warranty: 10 years parts, 2 years labour',
    message: 'found "10 years parts, 2 years labour"; write  warranty: {years: 10, labour_years: 2}',
  },
  {
    at: 'option',
    line: 'replacement: {parts: 900, labour: 250}',
    message:
      'unknown key "replacement" here; write  components: [{kind: string-inverter, replacement: {parts: 900, labour: 250}}]',
  },
  {
    at: 'option',
    line: 'age_years: 8',
    message: 'unknown key "age_years" here; write  components: [{kind: string-inverter, age_years: 8}]',
  },
  {
    at: 'option',
    line: 'failure: {shape: 3, mean_life_years: 14}',
    message:
      'unknown key "failure" here; write  components: [{kind: string-inverter, failure: {shape: 3, mean_life_years: 14}}]',
  },
  {
    at: 'option',
    line: 'call_out: 140',
    message: 'unknown key "call_out" here; at the left edge write  visit: {call_out: 140}',
  },
  { at: 'option', line: 'includes: switchboard', message: 'found "switchboard"; write  includes: [switchboard]' },
  { at: 'option', line: 'monitoring: yes', message: 'found "yes"; write  monitoring: built-in   # built-in or none' },
  { at: 'option', line: 'monitoring: no', message: 'found "no"; write  monitoring: none   # built-in or none' },
  {
    at: 'option',
    line: 'components: string-inverter',
    message: 'found "string-inverter"; write  components: [{kind: string-inverter}]',
  },
  {
    at: 'option',
    line: 'components: {kind: string-inverter}',
    message: 'found a block of keys; write  components: [{kind: string-inverter}]',
  },
  {
    at: 'option',
    line: 'warranty_offers: {years: 15, price: 350}',
    message: 'found a block of keys; write  warranty_offers: [{years: 15, price: 350}]',
  },
  {
    at: 'option',
    line: 'extended_warranty: {years: 15, price: 350}',
    message: 'unknown key "extended_warranty" here; write  warranty_offers: [{years: 15, price: 350}]',
  },
  {
    at: 'option',
    line: 'maker: maker-a',
    message: 'unknown key "maker" here; write  warranty_provider: {name: maker-a}',
  },
  {
    at: 'option',
    line: 'installer: installer-a',
    message: 'unknown key "installer" here; write  labour_provider: {name: installer-a}',
  },
  {
    at: 'option',
    line: 'warranty_provider: maker-a',
    message: 'found "maker-a"; write  warranty_provider: {name: maker-a}',
  },
  { at: 'option', line: 'design_losses: 3%', message: 'found "3%"; write  design_losses: {mismatch_and_shade: 3%}' },
  {
    at: 'option',
    line: 'shade_loss: 3%',
    message: 'unknown key "shade_loss" here; write  design_losses: {mismatch_and_shade: 3%}',
  },
  { at: 'option', line: 'visit_policy: 2', message: 'found 2; write  visit_policy: {wait_for_units: 2}' },
  { at: 'option', line: 'maintenance: 40', message: 'unknown key "maintenance" here; write  yearly_cost: 40' },
  { at: 'option', line: 'waranty: 10', message: 'unknown key "waranty"; did you mean "warranty"?' },
  {
    at: 'option',
    line: 'inverter_kv: 5',
    without: [{ at: 'option', key: 'inverter_kw' }],
    message: 'unknown key "inverter_kv"; did you mean "inverter_kw"?',
  },
  {
    at: 'option',
    line: 'optimisers: 6',
    besides: [{ at: 'option', line: 'topology: string' }],
    message:
      'topology "string" has no optimisers; write  topology: string-some-optimisers   # or string-optimisers, one on each panel',
  },
  {
    at: 'option',
    line: 'self_consumed: 30%',
    message:
      'unknown key "self_consumed" here; under "site" write  energy_value: {import_price_per_kwh: 0.3, export_price_per_kwh: 0.08, self_consumed: 30%}',
  },
  {
    at: 'option',
    line: 'location: {latitude: 47}',
    message: 'unknown key "location" here; under "site" write  location: {latitude: 47}',
  },
  {
    at: 'component',
    line: 'type: string-inverter',
    without: [{ at: 'component', key: 'kind' }],
    message: 'unknown key "type" here; write  kind: string-inverter',
  },
  {
    at: 'component',
    line: 'inverter_kw: 5',
    without: [{ at: 'component', key: 'ac_kw' }],
    message: 'unknown key "inverter_kw" here; write  ac_kw: 5',
  },
  { at: 'component', line: 'quantity: 2', message: 'unknown key "quantity" here; write  count: 2' },
  { at: 'component', line: 'years: 10', message: 'unknown key "years" here; write  warranty: {years: 10}' },
  {
    at: 'component',
    line: 'labour_years: 2',
    message: 'unknown key "labour_years" here; write  warranty: {labour_years: 2}',
  },
  { at: 'component', line: 'parts: 900', message: 'unknown key "parts" here; write  replacement: {parts: 900}' },
  { at: 'component', line: 'labour: 250', message: 'unknown key "labour" here; write  replacement: {labour: 250}' },
  {
    at: 'component',
    line: 'respond_days: 14',
    message: 'unknown key "respond_days" here; write  downtime: {respond_days: 14}',
  },
  {
    at: 'component',
    line: 'model_spread: 0.3',
    message: 'unknown key "model_spread" here; write  failure: {model_spread: 0.3}',
  },
  { at: 'component', line: 'replacement: 900', message: 'found 900; write  replacement: {parts: 900}' },
  { at: 'component', line: 'mppts: 2', message: 'unknown key "mppts" here; write  inputs: 2' },
  {
    at: 'component',
    line: 'upfront_cost: 6900',
    without: [{ at: 'option', key: 'upfront_cost' }],
    message: 'unknown key "upfront_cost" here; in the option write  upfront_cost: 6900',
  },
  {
    at: 'component',
    line: 'efficiency: 97%',
    message: 'unknown key "efficiency" here; write  weighted_efficiency: 97%',
  },
  {
    at: 'option',
    line: 'labour_years: 2',
    besides: [{ at: 'option', line: 'warranty: 10 years' }],
    message: 'unknown key "labour_years" here; write  warranty: {years: 10, labour_years: 2}',
  },
  {
    at: 'site',
    line: 'load: 4200',
    besides: [{ at: 'array', line: 'tilt: 25' }],
    message: 'found 4200; write  load: {annual_kwh: 4200}',
  },
  {
    at: 'site',
    line: 'load: use.csv',
    besides: [{ at: 'array', line: 'tilt: 25' }],
    message: 'found "use.csv"; write  load: {hourly_csv: use.csv}',
  },
]
