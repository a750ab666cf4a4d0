import { fileURLToPath } from 'node:url'
import { calendarOf } from '../../src/energy/calendar.ts'
import { energyOfOptions } from '../../src/energy/options-energy.ts'
import type { Scenario } from '../../src/scenario/model.ts'
import { loadScenario, readScenario } from '../../src/scenario/read-scenario.ts'
import { cpuSeconds } from './measure.ts'
import type { Report } from './report.ts'

/** An invented home of four planes with one tree, offered in all five topologies. */
const HOME = `
title: Four planes
start: 2027-01
prices_from_evidence: {factor: 1}
site:
  panels: 24
  location: {latitude: 47, climate: temperate}
  generation:
    arrays:
      - {name: south, panels: 8, panel_w: 400, tilt: 30, azimuth: 180, input: 1}
      - {name: east, panels: 6, panel_w: 400, tilt: 30, azimuth: 90, input: 2}
      - {name: north, panels: 4, panel_w: 400, tilt: 30, azimuth: 0, input: 2}
      - name: west
        panels: 6
        panel_w: 400
        tilt: 30
        azimuth: 270
        input: 1
        shade: [{months: [9, 3], hours: [14, 18], panels: 3, beam_lost: 80%}]
  energy_value: {import_price_per_kwh: 0.3, export_price_per_kwh: 0.08}
  load: {annual_kwh: 4500, shape: day-evening}
options:
  - {name: String, topology: string, upfront_cost: 9000, components: [{kind: string-inverter, ac_kw: 8}]}
  - {name: Hybrid, topology: hybrid, upfront_cost: 11000, components: [{kind: hybrid-inverter, ac_kw: 8}]}
  - {name: Units, topology: panel-level, upfront_cost: 12000, components: [{kind: panel-level-unit, count: 24, ac_kw: 0.35}]}
  - name: All
    topology: string-optimisers
    upfront_cost: 11000
    components: [{kind: string-inverter, ac_kw: 8}, {kind: optimiser, count: 24}]
  - name: Some
    topology: string-some-optimisers
    upfront_cost: 9500
    optimisers_on: {west: 3}
    components: [{kind: string-inverter, ac_kw: 8}, {kind: optimiser, count: 3}]
`

const BUSINESS = fileURLToPath(new URL('../../examples/business-export-limit.yaml', import.meta.url))

/**
 * From roof to kWh: all options of a home and of a business with a hundred panels.
 *
 * @param report - takes the figures
 */
export async function runEnergy(report: Report): Promise<void> {
  report.head('From roof to kWh, all options of a scenario')
  const home = readScenario(HOME, 'four-planes.yaml', '.')
  const business = await loadScenario(BUSINESS)
  const once = (scenario: Scenario) => () =>
    energyOfOptions(scenario, calendarOf(scenario.startMonth, scenario.horizonYears))
  for (const [name, scenario] of [
    ['four planes, five topologies', home],
    ['a hundred panels', business],
  ] as const) {
    report.figure(`${name}: first call of the process`, 1000 * (await cpuSeconds(once(scenario), 1)), 'ms')
    report.figure(`${name}: warm`, 1000 * (await cpuSeconds(once(scenario), 5)), 'ms')
  }
}
