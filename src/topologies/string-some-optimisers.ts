import type { Topology } from './topology.ts'

/** A string inverter with optimisers on the panels that need them. */
export const stringSomeOptimisers: Topology = {
  key: 'string-some-optimisers',
  label: 'string inverter with optimisers on some panels',
  description:
    'One inverter on the wall and a small converter behind some panels, usually the shaded ones. When the inverter stops, its panels stop. When a converter stops, mostly only its panel stops; the repair is on the roof.',
  alsoCalled: ['string with some optimisers', 'string inverter with some optimisers', 'some optimisers'],
  needs: [['string-inverter', 'hybrid-inverter'], ['optimiser']],
  mayHave: [],
  tracking: 'some-optimisers',
  onEachPanel: null,
  batteryNeedsInverter: false,
}
