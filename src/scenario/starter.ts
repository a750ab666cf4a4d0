/**
 * The scenario file that `lifetally new` writes: runs as it is, in the short form, and shows in comments what
 * else may be given. Prices and energy are placeholders of ours for a home roof of 6.6 kW.
 */
export const STARTER = `# A scenario for lifetally: one roof and the designs quoted for it.
# Put your own figures in place of these. What you leave out is filled from published evidence and listed in the
# report. To see every value and where it comes from:  lifetally check THIS_FILE
# To play it and write the report:                     lifetally estimate THIS_FILE

title: My roof, two quotes
currency: EUR
# start: 2027-03                  # month of commissioning; or the year alone
# discount_rate: 3%               # real, per year

# Prices of repairs that you do not know are taken from evidence, in US dollars of about 2025.
# Take the line out once you have prices of your own: replacement and visit below.
prices_from_evidence: yes

site:
  panels: 20
  panel_w: 330                    # rated power of one panel
  generation: {annual_kwh: 6500}  # energy of the first year, as the quote says; or twelve: {monthly_kwh: [250, …]}
  # location: {latitude: 47}      # spreads a year over its months; south of the equator below zero
  # Or, from the panels of each face, with the climate and the use of the house, or a file of its meter:
  #   (in place of generation)  generation: {arrays: [{panels: 12, tilt: 30, azimuth: south, shade: light}]}
  #   (in place of location)    location: {latitude: 47, climate: temperate}
  #   (if you know it)          load: {annual_kwh: 3500}     or  load: {hourly_csv: meter.csv}
  energy_value:
    import_price_per_kwh: 0.30
    export_price_per_kwh: 0.08
    # self_consumed: 30%          # used on the spot, without any battery
    # A range says what you do not know: one in ten below low, one in ten above high.
    # price_growth: {low: -1%, high: 2%}

# visit: {call_out: 140, roof_access: 0}

options:
  - name: String inverter
    topology: string              # or hybrid, micro-inverters, optimisers, some optimisers
    upfront_cost: 6900            # installed; the same things in every option
    warranty: 10 years            # of parts; or {years: 10, labour_years: 2}
    # inverter_kw: 5
    # battery_kwh: 10             # usable capacity, where one is in the price; what it earns is counted
    # tier: plain                 # budget, plain or robust: which row of the evidence fills the gaps
    # A longer warranty on offer: the report says what it is worth.
    # warranty_offers: [{years: 15, price: 350}]

  - name: Panel-level units
    topology: micro-inverters
    upfront_cost: 9400
    warranty: 25 years
    # inverter_kw: 0.29           # of one unit
    # What can fail, where you know more of it than the quote says:
    # components:
    #   - {kind: panel-level-unit, count: 20, replacement: {parts: 150, labour: 90}}
    #   - {kind: gateway}
    # Small units on the roof wait until two have failed, or for a year, in every option that has them. Otherwise:
    # visit_policy: each
    # What the design itself loses or saves on a shaded roof, as shares of the energy above.
    # design_losses: {mismatch_and_shade: 1%}
`
