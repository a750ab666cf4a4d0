import * as z from 'zod'
import { generationBlock } from './generation.ts'
import { flag, growth, number, share, whole } from './leaf.ts'
import { loadBlock } from './load.ts'
import { locationBlock } from './location.ts'
import { ranged, twelveOr } from './range.ts'
import { block } from './walk.ts'

const price = () => ranged(number({ min: 0, max: 1000 }, 'a kWh').meta({ unit: '{currency}/kWh' }), 'log')

/** What a kWh is worth (C5). */
export const energyValueBlock = block(
  {
    import_price_per_kwh: price().meta({ description: '± Price of energy bought.', phrase: 'price of energy bought' }),
    export_price_per_kwh: price().meta({
      description: '± Price paid for energy sold.',
      phrase: 'price of energy sold',
    }),
    self_consumed: twelveOr(ranged(share(), 'logit'), share()).optional().meta({
      description: '± Share used on the spot, without any battery; or twelve values from January.',
      phrase: 'share of energy used on the spot',
      whole: 'share of energy used on the spot, mean of the months',
    }),
    price_growth: ranged(growth(), 'linear').optional().meta({
      description: '± Real growth of the import price a year.',
      phrase: 'growth of the price of energy bought',
    }),
    export_price_growth: ranged(growth(), 'linear')
      .optional()
      .meta({ description: '± Real growth of the export price a year.', phrase: 'growth of the price of energy sold' }),
  },
  undefined,
  'what a kWh is worth, e.g. {import_price_per_kwh: 0.30, export_price_per_kwh: 0.08}',
)

/** What the network allows. */
export const networkBlock = block({
  phases: z
    .literal([1, 3], { error: issue => `found ${JSON.stringify(issue.input)}; allowed: 1 or 3` })
    .optional()
    .meta({ description: 'Phases of the connection; default 1.', phrase: 'phases of the network' }),
  ac_limit_kw_per_phase: number({ min: 0, max: 1e6, above: true }, 'kW')
    .optional()
    .meta({ description: 'Largest inverter power a phase, kW.', phrase: 'largest inverter a phase' }),
  export_limit_kw: number({ min: 0, max: 1e6 }, 'kW')
    .optional()
    .meta({ description: 'Largest export, kW.', phrase: 'export limit' }),
  max_dc_ac_ratio: number({ min: 0.5, max: 5 })
    .optional()
    .meta({ description: 'Largest ratio of panel to inverter power.', phrase: 'largest ratio of panels to inverter' }),
  nets_across_phases: flag().optional().meta({
    description: 'Whether the meter nets the phases against each other; default true.',
    phrase: 'meter nets across phases',
  }),
})

/** The roof or plant. */
export const siteBlock = block({
  panels: whole(1, 1_000_000, 'panels')
    .optional()
    .meta({ description: 'Panels on the roof.', phrase: 'number of panels' }),
  panel_w: number({ min: 1, max: 2000 }, 'W')
    .optional()
    .meta({ description: 'Rated power of one panel, W.', phrase: 'rated power of one panel' }),
  generation: generationBlock.meta({ description: 'What the roof gives.', whole: 'energy of a year', unit: 'kWh' }),
  energy_value: energyValueBlock.describe('What a kWh is worth.'),
  network: networkBlock.optional().describe('What the network allows.'),
  location: locationBlock.optional().describe('Where the roof is; with arrays, or for the months of annual_kwh alone.'),
  load: loadBlock.optional().describe('What the house uses; with arrays or an hourly file.'),
})

/** The site as written. */
export type GivenSite = z.output<typeof siteBlock>
