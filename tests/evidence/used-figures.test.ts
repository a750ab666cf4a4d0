import { expect, test } from 'vitest'
import { EVIDENCE_FIGURES } from '../../src/evidence/index.ts'
import {
  COMPONENT_KINDS,
  hasTiers,
  isOptimiser,
  isPanelInverter,
  isSunInverter,
  kindOf,
  TIERS,
} from '../../src/topologies/kinds.ts'
import { type Block, read } from '../worlds.ts'

const CLIMATES = ['cloudy', 'temperate', 'sunny', 'dry']
const KINDS: readonly Block[] = COMPONENT_KINDS.flatMap((kind): Block[] => {
  if (isOptimiser(kind)) return [{ kind, count: 20 }]
  const unit = { kind, ...(isSunInverter(kind) ? { ac_kw: isPanelInverter(kind) ? 0.3 : 5 } : {}) }
  if (hasTiers(kind)) return TIERS.map(tier => ({ ...unit, tier }))
  return [
    isPanelInverter(kind) ? { ...unit, count: 20 } : kindOf(kind).role === 'string' ? { ...unit, count: 2 } : unit,
  ]
})
const joins = ({ kind }: Block): boolean =>
  COMPONENT_KINDS.some(one => one === kind && (isOptimiser(one) || kindOf(one).joins !== 'none'))

/** Everything that evidence can fill is left to it: one option, with a kind alone or with what it goes with. */
function leftOut(unit: Block, over: Block, component: Block = {}, inverter: Block = {}): Block {
  const { kind } = unit
  const components = joins(unit) ? [unit, { kind: 'string-inverter', ...inverter }] : [unit]
  const topology =
    kind === 'panel-level-unit'
      ? 'panel-level'
      : kind === 'hybrid-inverter'
        ? 'hybrid'
        : kind === 'optimiser'
          ? 'string-optimisers'
          : 'string'
  const option = {
    name: 'A',
    topology,
    upfront_cost: 7000,
    components: components.map(one => ({ ...one, ...component })),
    ...(`${kind}`.startsWith('battery') ? { battery: { kwh: 10, kw: 5 } } : {}),
  }
  return { prices_from_evidence: { factor: 1 }, options: [option], ...over }
}

/** The shortest scenario that is allowed. */
function short(over: Block): Block {
  return {
    prices_from_evidence: { factor: 1 },
    options: [{ name: 'A', topology: 'string', upfront_cost: 7000 }],
    ...over,
  }
}

const CURRENCIES = EVIDENCE_FIGURES.flatMap(({ key }) =>
  key.startsWith('exchange.') ? [key.slice('exchange.'.length)] : [],
)
const ENERGY = { import_price_per_kwh: 0.3, export_price_per_kwh: 0.08 }
const monthly = { panels: 20, generation: { monthly_kwh: new Array(12).fill(500) }, energy_value: ENERGY }
const roof = (climate: string) => ({
  location: { latitude: 48, climate },
  generation: {
    arrays: ['light', 'moderate', 'heavy', 'none'].map((shade, i) => ({
      name: `${i}`,
      panels: 5,
      panel_w: 400,
      tilt: 30,
      azimuth: 90 + 60 * i,
      input: 1 + (i % 2),
      ...(shade === 'none' ? {} : { shade }),
    })),
  },
  energy_value: ENERGY,
})
/** Those that are read fast come first. */
const SCENARIOS = [
  ...KINDS.flatMap(unit => [
    leftOut(unit, { site: monthly }),
    leftOut(unit, { site: monthly, visit: { call_out: 1 } }, { failure: { model_spread: 0 } }),
  ]),
  ...CURRENCIES.map(currency => short({ currency, prices_from_evidence: true, site: monthly })),
  ...CLIMATES.map(climate =>
    short({ site: { panels: 20, location: { climate }, generation: { annual_kwh: 9000 }, energy_value: ENERGY } }),
  ),
  short({ site: { panels: 20, location: { latitude: 47 }, generation: { annual_kwh: 9000 }, energy_value: ENERGY } }),
  // each climate with some kinds, each kind with one climate
  ...KINDS.map((unit, i) => leftOut(unit, { site: roof(CLIMATES[i % CLIMATES.length] ?? '') }, {}, { ac_kw: 5 })),
]

const asPlayed = (blocks: Block): string => JSON.stringify(read(blocks))

/** The places of the scenarios, that which the figure before has moved first: it often moves the next one too. */
function* places(lastMoved: number): Generator<number> {
  yield lastMoved
  for (const place of SCENARIOS.keys()) if (place !== lastMoved) yield place
}

test('every built-in figure moves some scenario: none is dead, none is shadowed by a literal', () => {
  const before = SCENARIOS.map(asPlayed)
  let lastMoved = 0
  const isMoved = (): boolean => {
    for (const place of places(lastMoved)) {
      if (asPlayed(SCENARIOS[place] ?? {}) === before[place]) continue
      lastMoved = place
      return true
    }
    return false
  }
  const dead = EVIDENCE_FIGURES.flatMap(figure => {
    // the test alone writes to a figure, and puts it back
    const open = figure as { value: number }
    const { value } = open
    // more where a hair is rounded away
    const moved = [1.001, 1.1, 2].some(factor => {
      open.value = value === 0 ? factor - 1 : value * factor
      return isMoved()
    })
    open.value = value
    return moved ? [] : [`${figure.row} ${figure.key}`]
  })
  expect(dead).toEqual([])
})
