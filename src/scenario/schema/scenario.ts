import { z } from 'zod'
import { growth, money, number, oneOf, share, text, whole, wording } from './leaf.ts'
import { optionBlock } from './option.ts'
import { ranged } from './range.ts'
import { siteBlock } from './site.ts'
import { block, choice } from './walk.ts'

/** Most options of one scenario. */
export const MAX_OPTIONS = 50

const optionList = wording(`a list of 1 to ${MAX_OPTIONS} options`)

/** Prices of a visit (W4). */
export const visitBlock = block({
  call_out: ranged(money(), 'log').optional().describe('± Price of a call-out, once a visit.'),
  roof_access: ranged(money(), 'log').optional().describe('± Roof access, once a visit that needs it.'),
  labour_growth: ranged(growth(), 'linear').optional().describe('± Real growth of labour, call-out and access a year.'),
})

const factorBlock = block({
  factor: number({ min: 0, max: 10_000, above: true }).describe(
    'Units of the scenario’s currency for one US dollar of the evidence.',
  ),
})

const fromEvidence = z
  .literal([true, 'yes'], { error: wording('yes, or {factor: what one US dollar costs in your currency}') })
  .transform((): true => true)

/** The whole scenario file. */
export const scenarioBlock = block({
  title: text().optional().describe('Title of the report; default the name of the file.'),
  currency: z
    .string({ error: wording('three capital letters, e.g. EUR') })
    .regex(/^[A-Z]{3}$/, { error: wording('three capital letters, e.g. EUR') })
    .optional()
    .describe('Currency of all prices; default EUR.'),
  horizon_years: whole(1, 60, 'years').optional().describe('Years played; default 25.'),
  start: z
    .string({ error: wording('a month like 2027-03') })
    .regex(/^\d{4}-(0[1-9]|1[0-2])$/, { error: wording('a month like 2027-03') })
    .optional()
    .describe('Month of commissioning; sets the season of year 0; default January.'),
  discount_rate: growth().optional().describe('Real, a year; default 3 %.'),
  residual_value: oneOf(['none', 'straight-line'])
    .optional()
    .describe('Value of units at the horizon (C6); default none.'),
  reserve: block({
    interest: growth().optional().describe('On the reserve, after inflation; default 0.'),
    opening: money().optional().describe('Money already put aside; default 0.'),
    confidence: share({ min: 0.5, max: 0.999 })
      .optional()
      .describe('Chance with which the reserve is to be enough; default 90 %.'),
    inflation: share({ min: 0, max: 0.5 })
      .optional()
      .describe('Adds a table of deposits fixed in money; default none.'),
  })
    .optional()
    .describe('What an owner puts aside (R1-R3).'),
  prices_from_evidence: choice([fromEvidence, factorBlock], raw => (typeof raw === 'object' ? 1 : 0))
    .optional()
    .describe('Takes missing prices from evidence: yes, or {factor: …}; left out: a missing price is an error.'),
  tier_effect: number({ min: 0, max: 5 })
    .optional()
    .describe('How much of the evidence’s gap between tiers is real: 0 none, 1 all; left out: drawn from 0 to 2.'),
  site: siteBlock.describe('The roof or plant.'),
  visit: visitBlock.optional().describe('Prices of a visit.'),
  options: z
    .array(optionBlock, { error: optionList })
    .min(1, { error: optionList })
    .max(MAX_OPTIONS, { error: optionList })
    .describe('The designs on offer.'),
})

/** A scenario as written. */
export type GivenScenario = z.output<typeof scenarioBlock>
