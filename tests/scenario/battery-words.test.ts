import { expect, test } from 'vitest'
import { parseYaml } from '../../src/input/yaml.ts'
import { fullForm } from '../../src/scenario/short-form/index.ts'

/** Kinds of the components and the battery block that an option comes to. */
function taken(option: string): { kinds: unknown[]; battery: unknown; flaws: string[] } {
  const { source, flaws } = fullForm(parseYaml(`options: [${option}]`, 'roof.yaml'))
  // the shape is that of the text above
  const [one] = (source.value as { options: { components: { kind: string }[]; battery?: unknown }[] }).options
  return {
    kinds: one?.components.map(({ kind }) => kind) ?? [],
    battery: one?.battery,
    flaws: flaws.map(({ message }) => message),
  }
}

test('O7 battery_kwh: 10 and battery: {kwh: 10} mean the same: a battery, and an inverter of its own where no hybrid is', () => {
  const word = taken('{topology: string, battery_kwh: 10}')
  expect(word.kinds).toEqual(['string-inverter', 'battery', 'battery-inverter'])
  expect(word.battery).toEqual({ kwh: 10 })
  expect(taken('{topology: string, battery: {kwh: 10}}')).toEqual(word)
  expect(taken('{topology: hybrid, battery_kwh: 10}').kinds).toEqual(['hybrid-inverter', 'battery'])
  expect(taken('{topology: hybrid, battery: {kwh: 10}}').kinds).toEqual(['hybrid-inverter', 'battery'])
})

test('O7 what is listed stays as it is; a battery without kWh adds nothing', () => {
  const listed = '{topology: string, components: [{kind: string-inverter}, {kind: battery, count: 2}], battery_kwh: 10}'
  expect(taken(listed).kinds).toEqual(['string-inverter', 'battery', 'battery-inverter'])
  expect(taken('{topology: string, battery: {value_per_day: 1}}').kinds).toEqual(['string-inverter'])
  expect(taken('{topology: string, battery: {kw: 4}, battery_kwh: 8}').battery).toEqual({ kw: 4, kwh: 8 })
  expect(taken('{topology: string, battery: {kwh: 4}, battery_kwh: 8}').flaws).toEqual([
    'the option has a battery block as well; write its kwh there',
  ])
})
