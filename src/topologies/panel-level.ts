import type { Topology } from './topology.ts'

/** A small inverter behind each panel. */
export const panelLevel: Topology = {
  key: 'panel-level',
  label: 'panel-level units',
  description: 'A small inverter behind each panel. When one stops, only its panel stops; the repair is on the roof.',
  alsoCalled: [
    'panel-level units',
    'panel-level inverters',
    'micro',
    'micro-inverters',
    'microinverters',
    'module-level inverters',
    'AC modules',
  ],
  needs: [['panel-level-unit']],
  mayHave: [],
  tracking: 'panel',
  onEachPanel: 'panel-level-unit',
  batteryNeedsInverter: false,
}
