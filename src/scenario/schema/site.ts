import { z } from 'zod'
import { generationBlock } from './generation.ts'
import { flag, growth, number, share, whole } from './leaf.ts'
import { loadBlock } from './load.ts'
import { locationBlock } from './location.ts'
import { ranged, twelveOr } from './range.ts'
import { block } from './walk.ts'

const price = () => ranged(number({ min: 0, max: 1000 }, 'a kWh'), 'log')

/** What a kWh is worth (C5). */
export const energyValueBlock = block(
  {
    import_price_per_kwh: price().describe('± Price of energy bought.'),
    export_price_per_kwh: price().describe('± Price paid for energy sold.'),
    self_consumed: twelveOr(ranged(share(), 'logit'), share())
      .optional()
      .describe('± Share used on the spot, without any battery; or twelve values from January.'),
    price_growth: ranged(growth(), 'linear').optional().describe('± Real growth of the import price a year.'),
    export_price_growth: ranged(growth(), 'linear').optional().describe('± Real growth of the export price a year.'),
  },
  undefined,
  'what a kWh is worth, e.g. {import_price_per_kwh: 0.30, export_price_per_kwh: 0.08}',
)

/** What the network allows. */
export const networkBlock = block({
  phases: z
    .literal([1, 3], { error: issue => `found ${JSON.stringify(issue.input)}; allowed: 1 or 3` })
    .optional()
    .describe('Phases of the connection; default 1.'),
  ac_limit_kw_per_phase: number({ min: 0, max: 1e6, above: true }, 'kW')
    .optional()
    .describe('Largest inverter power a phase, kW.'),
  export_limit_kw: number({ min: 0, max: 1e6 }, 'kW').optional().describe('Largest export, kW.'),
  max_dc_ac_ratio: number({ min: 0.5, max: 5 }).optional().describe('Largest ratio of panel to inverter power.'),
  nets_across_phases: flag().optional().describe('Whether the meter nets the phases against each other; default true.'),
})

/** The roof or plant. */
export const siteBlock = block({
  panels: whole(1, 1_000_000, 'panels').optional().describe('Panels on the roof.'),
  panel_w: number({ min: 1, max: 2000 }, 'W').optional().describe('Rated power of one panel, W.'),
  generation: generationBlock.describe('What the roof gives.'),
  energy_value: energyValueBlock.describe('What a kWh is worth.'),
  network: networkBlock.optional().describe('What the network allows.'),
  location: locationBlock
    .optional()
    .describe('Where the roof stands; with arrays, or for the months of annual_kwh alone.'),
  load: loadBlock.optional().describe('What the house uses; with arrays or an hourly file.'),
})

/** The site as written. */
export type GivenSite = z.output<typeof siteBlock>
