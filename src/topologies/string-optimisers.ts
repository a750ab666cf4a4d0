import type { Topology } from './topology.ts'

/** A string inverter with an optimiser on every panel. */
export const stringOptimisers: Topology = {
  key: 'string-optimisers',
  label: 'string inverter with optimisers on all panels',
  description:
    'One inverter on the wall and a small converter behind every panel. When the inverter stops, everything stops; a converter that fails mostly stops its panel only, and its repair means going onto the roof.',
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
