import type { Topology } from './topology.ts'

/** A string inverter with an optimiser on every panel. */
export const stringOptimisers: Topology = {
  key: 'string-optimisers',
  label: 'string inverter with optimisers on all panels',
  description:
    'One inverter on the wall and a small converter behind every panel. When the inverter stops, its panels stop. When a converter stops, mostly only its panel stops; the repair is on the roof.',
  alsoCalled: [
    'optimisers',
    'DC optimisers',
    'power optimisers',
    'string with optimisers',
    'string inverter with optimisers',
  ],
  needs: [['string-inverter', 'hybrid-inverter'], ['optimiser']],
  mayHave: [],
  tracking: 'all-optimisers',
  onEachPanel: 'optimiser',
  batteryNeedsInverter: false,
}
