import type { Topology } from './topology.ts'

/** All panels in strings on one or more inverters. */
export const string: Topology = {
  key: 'string',
  label: 'string inverter',
  description:
    'All panels are wired in strings to one inverter on the wall (or a few). When the inverter stops, its panels stop.',
  alsoCalled: ['string inverter'],
  needs: [['string-inverter', 'hybrid-inverter']],
  mayHave: [],
  tracking: 'string',
  onEachPanel: null,
  batteryNeedsInverter: false,
}
