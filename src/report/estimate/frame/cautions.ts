/**
 * What every report says before anyone acts on it. Generic; local code and licensed people decide.
 *
 * @source IEC 62548-1:2023 and IEC 63027:2023 (arcs and arrays); IEC 62446-1 (tests and papers); IEC 62116 (loss of the grid)
 */
export const CAUTIONS: readonly string[] = [
  'These are planning figures, not advice, not a design and not a warranty. They rest on the assumptions listed here; change those and the answer changes.',
  'Work on inverters, isolators and cables is for licensed electricians only. Nothing here is an instruction for work.',
  'Isolate on both sides before anything is opened. The DC side stays live in daylight even when the AC side is off, and a DC arc can burn on at ordinary currents, so a fuse may not clear it.',
  'Roof work is work at height. Protection against falls and access to the roof are part of every job and of its price. Do not go onto the roof yourself.',
  'Local codes and network rules decide what may be installed, its limits, its tests and its papers. A replacement of another kind may have to meet today\u2019s rules, and needs the network\u2019s approval.',
  'Do not exceed the limits of voltage and current that the inverter\u2019s papers give. A larger array on an inverter must stay within them.',
  'An inverter stops when the grid stops. Backup works only where it was designed and tested.',
  'Lithium batteries are dangerous goods. Only licensed firms may carry, send or scrap them.',
  'Water, smell, heat, a burning noise or damaged plugs: switch off by the posted procedure, keep away, and call a professional.',
]
