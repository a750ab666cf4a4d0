import * as z from 'zod'
import { growth, money, number, oneOf, share, text, whole, wording, yearlyShare } from './leaf.ts'
import { optionBlock } from './option.ts'
import { ranged } from './range.ts'
import { siteBlock } from './site.ts'
import { block, choice } from './walk.ts'

/** Most options of one scenario. */
export const MAX_OPTIONS = 50

const optionList = wording(`a list of 1 to ${MAX_OPTIONS} options`)

/** Prices of a visit (W4). */
export const visitBlock = block({
  call_out: ranged(money(), 'log')
    .optional()
    .meta({ description: '± Price of a call-out, once a visit.', phrase: 'call-out' }),
  roof_access: ranged(money(), 'log')
    .optional()
    .meta({ description: '± Roof access, once a visit that needs it.', phrase: 'roof access' }),
  labour_growth: ranged(growth(), 'linear')
    .optional()
    .meta({ description: '± Real growth of labour, call-out and access a year.', phrase: 'growth of labour prices' }),
})

const factorBlock = block({
  factor: number({ min: 0, max: 10_000, above: true }).meta({
    unit: '{currency} for one USD',
    description: 'Units of the scenario’s currency for one US dollar of the evidence.',
    phrase: 'one US dollar of the evidence in your currency',
  }),
})

const fromEvidence = z
  .literal([true, 'yes'], { error: wording('yes, or {factor: what one US dollar costs in your currency}') })
  .transform((): true => true)

/** The whole scenario file. */
export const scenarioBlock = block({
  title: text().optional().meta({ description: 'Title of the report; default the name of the file.', phrase: 'title' }),
  currency: z
    .string({ error: wording('three capital letters, e.g. EUR') })
    .regex(/^[A-Z]{3}$/, { error: wording('three capital letters, e.g. EUR') })
    .optional()
    .meta({ description: 'Currency of all prices; default EUR.', phrase: 'currency' }),
  horizon_years: whole(1, 60, 'years')
    .optional()
    .meta({ description: 'Years played; default 25.', phrase: 'years looked at' }),
  start: z
    .string({ error: wording('a month like 2027-03') })
    .regex(/^\d{4}-(0[1-9]|1[0-2])$/, { error: wording('a month like 2027-03') })
    .optional()
    .meta({
      description: 'Month of commissioning; sets the season of year 0; default January.',
      phrase: 'month of commissioning',
    }),
  discount_rate: growth().optional().meta({ description: 'Real, a year; default 3 %.', phrase: 'discount rate' }),
  residual_value: oneOf(['none', 'straight-line'])
    .optional()
    .meta({ description: 'Value of units at the horizon (C6); default none.', phrase: 'worth left at the end' }),
  reserve: block({
    interest: growth().optional().meta({
      description: 'On the reserve, after inflation; default 0.',
      phrase: 'interest on the reserve, after inflation',
    }),
    opening: money()
      .optional()
      .meta({ description: 'Money already put aside; default 0.', phrase: 'in the reserve at the start' }),
    confidence: share({ min: 0.5, max: 0.999 }).optional().meta({
      description: 'Chance with which the reserve is to be enough; default 90 %.',
      phrase: 'how surely the reserve is to last',
    }),
    inflation: yearlyShare({ min: 0, max: 0.5 })
      .optional()
      .meta({ description: 'Adds a table of deposits fixed in money; default none.', phrase: 'inflation' }),
  })
    .optional()
    .describe('What an owner puts aside (R1-R3).'),
  prices_from_evidence: choice([fromEvidence, factorBlock], raw => (typeof raw === 'object' ? 1 : 0))
    .optional()
    .meta({
      description: 'Takes missing prices from evidence: yes, or {factor: …}; left out: a missing price is an error.',
      phrase: 'missing prices',
    }),
  tier_effect: number({ min: 0, max: 5 }).optional().meta({
    description: 'How much of the evidence’s gap between tiers is real: 0 none, 1 all; left out: drawn from 0 to 2.',
    phrase: 'how much tiers differ in reliability',
  }),
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
