/** Short scenarios, each right as it is, that between them use every kind of component. */
export const QUOTES: readonly string[] = [
  quote(`  - name: Optimisers
    topology: string-optimisers
    upfront_cost: 7000
    components:
      - {kind: string-inverter, tier: robust, ac_kw: 5, model: m1}
      - {kind: optimiser, count: 8, takes_string_down: {low: 1%, high: 20%}, replacement: {parts: 60, labour: 90}}
      - {kind: gateway}
    visit_policy: {wait_for_units: 2, wait_at_most_days: 180}
  - name: Budget
    topology: string
    upfront_cost: 5000
    yearly_cost: {low: 5, high: 20}
    components: [{kind: string-inverter, tier: budget, ac_kw: 2.5, count: 2, restore: {repair: {renews: 60%, parts: 90, labour: 80, at_most: 2}}}]
    warranty_offers: [{years: 12, price: 200}]
`),
  quote(`  - name: One box
    topology: hybrid
    upfront_cost: 11000
    includes: [battery]
    battery: {value_per_day: {low: 0.5, high: 1.2}, without_sun: 20%, backup: true}
    components:
      - {kind: hybrid-inverter, ac_kw: 5, age_years: 6, replace_at_age_years: 12}
      - kind: battery
        failure: {failed_by: {10: 12%, 15: 35%}}
        downtime: {detect_days: 2, respond_days: {median: 5, p90: 20}, repair_days: 0.3}
        replacement: {parts: 4000, labour: 300, parts_growth: -3%}
        warranty: {years: 10, labour_years: 2, claim_success: 80%}
        successor: {surcharge: 200, chance: {5: 10%, 15: 60%}}
  - {name: Short, topology: string, upfront_cost: 5900}
`),
  quote(`  - name: Behind each panel
    topology: panel-level
    upfront_cost: 9000
    monitoring: none
    components: [{kind: panel-level-unit, count: 6, failure: {modes: [{cause: early, susceptible: 3%, shape: 0.7, b10_years: 1}, {cause: late, shape: 4, mean_life_years: {low: 15, high: 30}}], bad_batch: {chance: 10%, affects: 50%, life_times: 0.3}}}]
    warranty_provider: {name: maker, exit_rate_per_year: 5%}
`),
]

function quote(options: string): string {
  return `horizon_years: 12
prices_from_evidence: {factor: 0.9}
site:
  panels: 8
  generation: {monthly_kwh: [90, 140, 220, 270, 300, 310, 310, 280, 220, 160, 100, 80]}
  energy_value: {import_price_per_kwh: {low: 0.2, high: 0.4}, export_price_per_kwh: 0.07}
options:
${options}`
}
