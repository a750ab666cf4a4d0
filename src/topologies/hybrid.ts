import type { Topology } from './topology.ts'

/** One inverter for panels and battery. */
export const hybrid: Topology = {
  key: 'hybrid',
  label: 'hybrid inverter',
  description:
    'One inverter for the panels and the battery. When the inverter stops, its panels stop, and the battery.',
  alsoCalled: ['hybrid inverter'],
  needs: [['hybrid-inverter']],
  mayHave: ['string-inverter'],
  tracking: 'string',
  onEachPanel: null,
  batteryNeedsInverter: true,
}
