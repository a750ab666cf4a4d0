import type { Topology } from './topology.ts'

/** One box for the sun and the battery. */
export const hybrid: Topology = {
  key: 'hybrid',
  label: 'hybrid inverter',
  description: 'One inverter serves the panels and the battery. When it stops, both stop.',
  alsoCalled: ['hybrid inverter'],
  needs: [['hybrid-inverter']],
  mayHave: ['string-inverter'],
  tracking: 'string',
  onEachPanel: null,
  batteryNeedsInverter: true,
}
