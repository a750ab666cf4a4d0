import { z } from 'zod'
import { TOPOLOGY_KEYS } from '../../topologies/index.ts'
import { COMPONENT_KINDS } from '../../topologies/kinds.ts'
import { shortKeys } from '../short-form/json-forms.ts'
import { componentList, warrantyBlock } from './component.ts'
import { flag, money, number, oneOf, share, text, whole, wording } from './leaf.ts'
import { ranged } from './range.ts'
import { block, choice } from './walk.ts'

const exitRate = () => ranged(share({ min: 0, max: 0.99 }), 'log')

function providerBlock(who: string) {
  return block({
    name: text().optional().describe(`Name of the ${who}; options that name the same one share its fate (W5).`),
    exit_rate_per_year: exitRate().optional().describe('± Chance a year that it stops standing behind its cover.'),
  })
}

/** A priced change of terms as written (W6). */
export const offerBlock = block({
  component: oneOf(COMPONENT_KINDS).optional().describe('Kind of the component; default the first listed.'),
  years: number({ min: 0, max: 100, above: true }, 'years').describe('Parts cover with the offer, years.'),
  labour_years: number({ min: 0, max: 100 }, 'years')
    .optional()
    .describe('Labour cover with the offer; default the present one.'),
  price: money().describe('Paid at the start.'),
  taken: flag().optional().describe('Whether the option includes it; default false.'),
})

const visitPolicyBlock = block({
  wait_for_units: whole(1, 100_000, 'units').optional().describe('Failed units before a visit is called; default 1.'),
  wait_at_most_days: number({ min: 0, max: 36_500 }, 'days')
    .optional()
    .describe('Longest wait of a listed unit; default 365.'),
})

const eachWord = z.literal('each', { error: wording('each, or {wait_for_units: 2, wait_at_most_days: 365}') })

const designLossesBlock = block({
  mismatch_and_shade: share({ min: 0, max: 0.95 }).optional().describe('Lost to mismatch and shade; default 0.'),
  clipping: share({ min: 0, max: 0.95 }).optional().describe('Lost to clipping; default 0.'),
  conversion: share({ min: 0, max: 0.95 })
    .optional()
    .describe('Conversion loss beyond an ordinary inverter; default 0.'),
})

const batteryBlock = block({
  kwh: number({ min: 0, max: 100_000 }, 'kWh').optional().describe('Usable capacity, kWh; then it is a component too.'),
  kw: number({ min: 0, max: 100_000 }, 'kW')
    .optional()
    .describe('Most that it takes or gives, kW; default half of kwh.'),
  round_trip: share({ min: 0.1, max: 1 })
    .optional()
    .describe('Share of what is charged that comes out again; default 90 %.'),
  value_per_day: ranged(money(), 'log')
    .optional()
    .describe('± All that the battery earns a day beside self_consumed; default: worked out from kwh.'),
  without_sun: share().optional().describe('Share of that value it keeps while the sun’s inverter is down; default 0.'),
  backup: flag().optional().describe('Whether it gives backup; then days without are counted. Default false.'),
})

const laterBlock = block({
  name: text().describe('What is bought; options that carry the same name buy it in the same lifetimes (C8).'),
  year: ranged(number({ min: 0, max: 60 }, 'years'), 'log').describe('± Year after the start in which it is bought.'),
  chance: ranged(share(), 'logit').optional().describe('± Chance that it is bought at all; default 100 %.'),
  cost: ranged(money(), 'log').describe('± What it then costs, installed, in prices of the start date.'),
})

const notes = wording('a list of up to 20 words, e.g. [switchboard]')

/** One option as written. */
export const optionBlock = block(
  {
    name: text().describe('As the report calls it; unique.'),
    topology: oneOf(TOPOLOGY_KEYS).describe('How the roof is wired.'),
    upfront_cost: money().describe('Installed price; the same things in every option.'),
    includes: z
      .array(text(), { error: notes })
      .max(20, { error: notes })
      .optional()
      .describe('What else the price holds: battery, switchboard, ….'),
    later: z
      .array(laterBlock, { error: wording('a list of up to 20 later purchases') })
      .max(20, { error: wording('a list of up to 20 later purchases') })
      .optional()
      .describe('What may be bought later (C8); no part of the reserve.'),
    yearly_cost: ranged(money(), 'log')
      .optional()
      .describe('± Monitoring subscription, inspection; a year; default 0.'),
    monitoring: oneOf(['built-in', 'none'])
      .optional()
      .describe('Where there is no gateway component; default built-in.'),
    components: componentList.describe('What can fail; left out: the inverter or the units that the topology needs.'),
    warranty: warrantyBlock.optional().describe('Cover of the first component, where it has no terms of its own.'),
    warranty_provider: providerBlock('maker')
      .optional()
      .describe('Who stands behind parts cover; default one of its own.'),
    labour_provider: providerBlock('installer')
      .optional()
      .describe('Who stands behind labour cover; default one of its own.'),
    warranty_offers: z
      .array(offerBlock, { error: wording('a list of up to 20 offers') })
      .max(20, { error: wording('a list of up to 20 offers') })
      .optional()
      .describe('Longer terms at a price.'),
    visit_policy: choice([eachWord, visitPolicyBlock], raw => (typeof raw === 'object' ? 1 : 0))
      .optional()
      .describe(
        'each, or a block: wait until a visit pays (O3). Left out: 2 units, at most 365 days, where a panel-level unit or optimiser carries at most 10 %; else each.',
      ),
    battery: batteryBlock.optional().describe('What the battery earns (O7).'),
    design_losses: designLossesBlock.optional().describe('Shares of the site’s energy lost by design.'),
    optimisers_on: z
      .record(text(), whole(0, 100_000, 'panels'), {
        error: wording('a table from array names to panels, e.g. {west: 3}'),
      })
      .optional()
      .describe('Panels fitted with optimisers, by array; with arrays only.'),
  },
  undefined,
  undefined,
  Object.keys(shortKeys('options')),
)

/** One option as written. */
export type GivenOption = z.output<typeof optionBlock>
