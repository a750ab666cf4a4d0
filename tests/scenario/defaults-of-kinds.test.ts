import { expect, test } from 'vitest'
import { InputError } from '../../src/errors.ts'
import { readScenario } from '../../src/scenario/read-scenario.ts'
import { COMPONENT_KINDS, type ComponentKind } from '../../src/topologies/kinds.ts'
import { type Block, option, put, read, unit, world } from '../worlds.ts'

/** What holds where a scenario says nothing, written out a second time on purpose. */
const USUAL: Readonly<Record<ComponentKind, { readonly onRoof: boolean; readonly needsVisit: boolean }>> = {
  'string-inverter': { onRoof: false, needsVisit: true },
  'hybrid-inverter': { onRoof: false, needsVisit: true },
  'panel-level-unit': { onRoof: true, needsVisit: true },
  optimiser: { onRoof: true, needsVisit: true },
  gateway: { onRoof: false, needsVisit: false },
  battery: { onRoof: false, needsVisit: true },
  'dc-isolator': { onRoof: true, needsVisit: true },
  'battery-inverter': { onRoof: false, needsVisit: true },
}

/** A unit that says nothing of roof and visit. */
function silent(kind: ComponentKind): Block {
  const { on_roof: _, ...rest } = unit(kind)
  return rest
}

/** The kind in an option that it goes with; the other components there need no visit and are not on the roof. */
function blocksWith(kind: ComponentKind): Block {
  const elsewhere = { on_roof: false, needs_visit: false }
  const [topology, beside] =
    kind === 'panel-level-unit'
      ? ['panel-level', []]
      : kind === 'optimiser'
        ? ['string-optimisers', [unit('string-inverter', elsewhere)]]
        : kind === 'hybrid-inverter'
          ? ['hybrid', []]
          : ['string', kind === 'string-inverter' ? [] : [unit('string-inverter', elsewhere)]]
  const battery = kind === 'battery' ? { battery: { value_per_day: 1 } } : {}
  const one = kind === 'optimiser' ? put(silent(kind), { count: 10 }) : silent(kind)
  return world([option('One', topology, [one, ...beside], battery)])
}

test.each(COMPONENT_KINDS)('on_roof and needs_visit of a %s that says nothing', kind => {
  const [population] = read(blocksWith(kind)).options[0]?.populations ?? []
  expect({ onRoof: population?.onRoof, needsVisit: population?.needsVisit }).toEqual(USUAL[kind])
})

test.each(COMPONENT_KINDS)('a %s that says nothing asks for the prices of its visits alone', kind => {
  const { visit: _, ...unpriced } = blocksWith(kind)
  let message = ''
  try {
    readScenario(JSON.stringify(unpriced), 'world.json', '.')
  } catch (error) {
    if (!(error instanceof InputError)) throw error
    message = error.message
  }
  const { onRoof, needsVisit } = USUAL[kind]
  expect(message.includes('visit.call_out')).toBe(needsVisit)
  expect(message.includes('visit.roof_access')).toBe(needsVisit && onRoof)
})
