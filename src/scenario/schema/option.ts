import * as z from 'zod'
import { TOPOLOGY_KEYS } from '../../topologies/index.ts'
import { COMPONENT_KINDS } from '../../topologies/kinds.ts'
import { shortKeys } from '../short-form/json-forms.ts'
import { componentList, warrantyBlock } from './component.ts'
import { flag, money, number, oneOf, share, text, whole, wording, yearlyShare } from './leaf.ts'
import { ranged } from './range.ts'
import { block, choice } from './walk.ts'

const exitRate = () => ranged(yearlyShare({ min: 0, max: 0.99 }), 'log')

function providerBlock(who: string) {
  return block({
    name: text()
      .optional()
      .meta({
        description: `Name of the ${who}; options that name the same one share its exit (W5).`,
        phrase: `name of the ${who}`,
      }),
    exit_rate_per_year: exitRate()
      .optional()
      .meta({
        description: '± Chance a year that it stops honouring its cover.',
        phrase: `chance that the ${who} stops`,
      }),
  })
}

/** A priced change of terms as written (W6). */
export const offerBlock = block({
  component: oneOf(COMPONENT_KINDS)
    .optional()
    .meta({ description: 'Kind of the component; default the first listed.', phrase: 'component' }),
  years: number({ min: 0, max: 100, above: true }, 'years').meta({
    description: 'Parts cover with the offer, years.',
    phrase: 'years',
  }),
  labour_years: number({ min: 0, max: 100 }, 'years')
    .optional()
    .meta({ description: 'Labour cover with the offer; default the present one.', phrase: 'labour years' }),
  price: money().meta({ description: 'Paid at the start.', phrase: 'price' }),
  taken: flag().optional().meta({ description: 'Whether the option includes it; default false.', phrase: 'taken' }),
})

const visitPolicyBlock = block({
  wait_for_units: whole(1, 100_000, 'units')
    .optional()
    .meta({ description: 'Failed units before a visit is called; default 1.', phrase: 'failed units waited for' }),
  wait_at_most_days: number({ min: 0, max: 36_500 }, 'days')
    .optional()
    .meta({ description: 'Longest wait of a listed unit; default 365.', phrase: 'days waited at most' }),
})

const eachWord = z.literal('each', { error: wording('each, or {wait_for_units: 2, wait_at_most_days: 365}') })

const designLossesBlock = block({
  mismatch_and_shade: share({ min: 0, max: 0.95 })
    .optional()
    .meta({ description: 'Lost to mismatch and shade; default 0.', phrase: 'loss by mismatch and shade' }),
  clipping: share({ min: 0, max: 0.95 })
    .optional()
    .meta({ description: 'Lost to clipping; default 0.', phrase: 'loss by clipping' }),
  conversion: share({ min: 0, max: 0.95 })
    .optional()
    .meta({ description: 'Conversion loss beyond an ordinary inverter; default 0.', phrase: 'loss by conversion' }),
})

const batteryBlock = block({
  kwh: number({ min: 0, max: 100_000 }, 'kWh')
    .optional()
    .meta({ description: 'Usable capacity, kWh; then it is a component too.', phrase: 'capacity of the battery' }),
  kw: number({ min: 0, max: 100_000 }, 'kW').optional().meta({
    description: 'Most that it takes or gives, kW; default half of kwh.',
    phrase: 'most that the battery takes or gives',
  }),
  round_trip: share({ min: 0.1, max: 1 }).optional().meta({
    description: 'Share of what is charged that comes out again; default 90 %.',
    phrase: 'share of what is charged that the battery gives back',
  }),
  value_per_day: ranged(money(), 'log').optional().meta({
    description: '± All that the battery earns a day on top of self_consumed; default: worked out from kwh.',
    phrase: 'what the battery earns a day',
  }),
  without_sun: share().optional().meta({
    description: 'Share of that value it keeps while the sun’s inverter is down; default 0.',
    phrase: 'what the battery still earns without the inverter',
  }),
  backup: flag().optional().meta({
    description: 'Whether it gives backup; then days without are counted. Default false.',
    phrase: 'backup by the battery',
  }),
})

const laterBlock = block({
  name: text().meta({
    description: 'What is bought; options that carry the same name buy it in the same lifetimes (C8).',
    phrase: 'later purchase',
  }),
  year: ranged(number({ min: 0, max: 60 }, 'years'), 'log').meta({
    description: '± Year after the start in which it is bought.',
    phrase: 'year of a later purchase',
  }),
  chance: ranged(share(), 'logit')
    .optional()
    .meta({ description: '± Chance that it is bought at all; default 100 %.', phrase: 'chance of a later purchase' }),
  cost: ranged(money(), 'log').meta({
    description: '± What it then costs, installed, in prices of the start date.',
    phrase: 'cost of a later purchase',
  }),
})

const notes = wording('a list of up to 20 words, e.g. [switchboard]')

/** One option as written. */
export const optionBlock = block(
  {
    name: text().meta({ description: 'As the report calls it; unique.', phrase: 'name of the option' }),
    topology: oneOf(TOPOLOGY_KEYS).meta({ description: 'How the roof is wired.', phrase: 'design' }),
    upfront_cost: money().meta({
      description: 'Installed price; the same things in every option.',
      phrase: 'purchase price',
    }),
    includes: z
      .array(text(), { error: notes })
      .max(20, { error: notes })
      .optional()
      .meta({ description: 'What else the price holds: battery, switchboard, ….', phrase: 'what the price holds too' }),
    later: z
      .array(laterBlock, { error: wording('a list of up to 20 later purchases') })
      .max(20, { error: wording('a list of up to 20 later purchases') })
      .optional()
      .meta({ description: 'What may be bought later (C8); no part of the reserve.', each: '{phrase}: {place}' }),
    yearly_cost: ranged(money(), 'log')
      .optional()
      .meta({ description: '± Monitoring subscription, inspection; a year; default 0.', phrase: 'yearly cost' }),
    monitoring: oneOf(['built-in', 'none']).optional().meta({
      description: 'Where there is no gateway component; default built-in.',
      phrase: 'how failures are noticed',
    }),
    components: componentList.describe('What can fail; left out: the inverter or the units that the topology needs.'),
    warranty: warrantyBlock.optional().describe('Cover of the first component, where it has no terms of its own.'),
    warranty_provider: providerBlock('maker')
      .optional()
      .describe('Who provides parts cover; default one of the option’s own.'),
    labour_provider: providerBlock('installer')
      .optional()
      .describe('Who provides labour cover; default one of the option’s own.'),
    warranty_offers: z
      .array(offerBlock, { error: wording('a list of up to 20 offers') })
      .max(20, { error: wording('a list of up to 20 offers') })
      .optional()
      .meta({ description: 'Longer terms at a price.', each: 'warranty offer {place}: {phrase}' }),
    visit_policy: choice([eachWord, visitPolicyBlock], raw => (typeof raw === 'object' ? 1 : 0))
      .optional()
      .meta({
        description:
          'each, or a block: wait until a visit pays (O3). Left out: 2 units, at most 365 days, where a panel-level unit or optimiser carries at most 10 %; else each.',
        phrase: 'when failed units are visited',
      }),
    battery: batteryBlock.optional().meta({
      description: 'What the battery earns (O7).',
      filled: {
        fading: { phrase: 'what the battery loses of its worth with each year of its age', unit: 'share a year' },
      },
    }),
    design_losses: designLossesBlock.optional().describe('Shares of the site’s energy lost by design.'),
    optimisers_on: z
      .record(text(), whole(0, 100_000, 'panels'), {
        error: wording('a table from array names to panels, e.g. {west: 3}'),
      })
      .optional()
      .meta({
        description: 'Panels fitted with optimisers, by array; with arrays only.',
        phrase: 'panels with optimisers',
        each: 'panels with optimisers of array {place}',
      }),
  },
  undefined,
  undefined,
  Object.keys(shortKeys('options')),
)

/** One option as written. */
export type GivenOption = z.output<typeof optionBlock>
