import * as z from 'zod'
import {
  COMPONENT_KINDS,
  type ComponentKind,
  hasTiers,
  isCentralInverter,
  isOptimiser,
  kindOf,
  kindWords,
  oneOfKind,
  TIERS,
} from '../../topologies/kinds.ts'
import { REPLACEMENT_COVER_WORDS } from '../model/replacement-cover.ts'
import { failureBlock } from './failure.ts'
import { flag, growth, isRange, money, number, oneOf, share, text, whole, wording } from './leaf.ts'
import { ranged } from './range.ts'
import { block, choice, type Flaw, yearTable } from './walk.ts'

/** Most units of one option. */
export const MAX_UNITS = 100_000

const days = () => number({ min: 0, max: 3650 }, 'days')

const delayTable = block(
  {
    median: ranged(number({ min: 0, max: 3650, above: true }, 'days'), 'log').meta({
      description: '± Half are done by then, days.',
      phrase: '{block} (half within)',
    }),
    p90: number({ min: 0, max: 36_500, above: true }, 'days').meta({
      description: 'Nine in ten are done by then, days.',
      phrase: '{block} (9 of 10 within)',
    }),
  },
  delay => {
    const median = typeof delay.median === 'number' ? delay.median : delay.median.high
    const flaw: Flaw = { path: ['p90'], message: `p90 (${delay.p90}) must be more than the median (${median})` }
    return delay.p90 > median ? [] : [flaw]
  },
)

/** A delay: days, a range of days, or `{median, p90}` of a lognormal (O1). */
function delay() {
  return choice([ranged(days(), 'log'), delayTable], raw => (isTable(raw) && !isRange(raw) ? 1 : 0))
}

function isTable(raw: unknown): boolean {
  return typeof raw === 'object' && raw !== null && !Array.isArray(raw)
}

/** How long a failure lasts (O1, O2). */
export const downtimeBlock = block({
  detect_days: delay().optional().meta({
    description: '± From failure to notice while monitoring works: days or {median, p90}.',
    phrase: 'days until a failure is noticed',
  }),
  detect_days_unmonitored: delay().optional().meta({
    description: '± The same while it does not.',
    phrase: 'days until a failure is noticed without monitoring',
  }),
  respond_days: delay()
    .optional()
    .meta({ description: '± From notice to the visit.', phrase: 'days until somebody comes' }),
  repair_days: delay()
    .optional()
    .meta({ description: '± From the visit to the return to service.', phrase: 'days of the repair itself' }),
  claim_days: days().optional().meta({
    description: 'Days of energy lost in addition to these where a maker has to be asked for parts.',
    phrase: 'days that a claim adds',
  }),
})

/** What a replacement costs (W4). */
export const replacementBlock = block(
  {
    parts: ranged(money(), 'log')
      .optional()
      .meta({ description: '± Price of a new unit.', phrase: 'parts for a replacement' }),
    labour: ranged(money(), 'log').optional().meta({
      description: '± Labour for the first unit of a visit, without call-out.',
      phrase: 'labour for a replacement',
    }),
    labour_each_further: ranged(money(), 'log').optional().meta({
      description: '± Labour for each further unit; left out: as labour.',
      phrase: 'labour for each further unit of a visit',
    }),
    parts_growth: ranged(growth(), 'linear')
      .optional()
      .meta({ description: '± Real growth of parts prices a year.', phrase: 'growth of parts prices' }),
  },
  undefined,
  'prices of a replacement, e.g. {parts: 950, labour: 280}',
)

/** Terms of cover (W1-W4). */
export const warrantyBlock = block(
  {
    years: number({ min: 0, max: 100 }, 'years')
      .optional()
      .meta({ description: 'Parts cover, years from the start of service.', phrase: 'years of parts cover' }),
    labour_years: number({ min: 0, max: 100 }, 'years')
      .optional()
      .meta({ description: 'Labour cover, years.', phrase: 'years of labour cover' }),
    parts: share().optional().meta({
      description: 'Share of parts that cover pays; default 100 %.',
      phrase: 'share of parts that cover pays',
    }),
    labour: share().optional().meta({
      description: 'Share of labour that cover pays; default 100 %.',
      phrase: 'share of labour that cover pays',
    }),
    claim_success: ranged(share(), 'logit')
      .optional()
      .meta({ description: '± Claims granted while the provider exists.', phrase: 'share of claims granted' }),
    replacement_cover: oneOf(REPLACEMENT_COVER_WORDS)
      .optional()
      .meta({ description: 'Cover of a replacement (W3); default new-if-bought.', phrase: 'cover of a replaced unit' }),
    replacement_min_years: number({ min: 0, max: 100 }, 'years').optional().meta({
      description: 'Least cover of a unit supplied under cover, years; default 0.',
      phrase: 'least cover of a unit replaced under cover',
    }),
    visits_covered: flag().optional().meta({
      description: 'Whether labour cover pays call-out and access too; default false.',
      phrase: 'call-outs free under cover',
    }),
  },
  undefined,
  'terms of cover, e.g. {years: 10, labour_years: 2}',
)

const successorBlock = block(
  {
    surcharge: money().meta({
      description: 'Paid once a slot when the model is no longer made (M8).',
      phrase: 'extra cost where the model is no longer sold',
    }),
    chance: yearTable(share()).meta({
      description: 'Share of models out of production by an age, e.g. {5: 10%, 15: 60%}.',
      each: 'share of models no longer sold after {place} years',
    }),
  },
  successor => {
    const points = Object.entries(successor.chance).sort(([a], [b]) => Number(a) - Number(b))
    if (points.length === 0) return [{ path: ['chance'], message: 'found no point; give at least one, e.g. {10: 30%}' }]
    const falls = points.find(([, value], index) => index > 0 && value < (points[index - 1]?.[1] ?? 0))
    return falls === undefined ? [] : [{ path: ['chance', falls[0]], message: 'the share may not fall with age' }]
  },
)

const repairBlock = block({
  repair: block({
    renews: share().meta({
      description: '0 %: as old as before; 100 %: as good as new (M3).',
      phrase: 'how much of its life a repair gives back',
    }),
    parts: money().meta({ description: 'Parts of a repair.', phrase: 'parts of a repair' }),
    labour: money().meta({ description: 'Labour of a repair.', phrase: 'labour of a repair' }),
    at_most: whole(0, 1000, 'repairs').optional().meta({
      description: 'Repairs before the next failure replaces; default no limit.',
      phrase: 'repairs before a unit is replaced',
    }),
  }).describe('A failed unit is repaired instead of replaced.'),
})

const restoreWord = z.literal('replace', { error: wording('replace, or {repair: {renews, parts, labour}}') })

/** One population as written. */
export const componentBlock = block(
  {
    kind: oneOf(COMPONENT_KINDS).meta({ description: 'What the units are.', phrase: 'kind' }),
    tier: oneOf(TIERS).optional().meta({
      description: 'Row of the evidence; string inverters only; default plain.',
      phrase: 'class of the inverter',
    }),
    model: text().optional().meta({
      description: 'Any word; populations of one model share its quality and bad batch (M4).',
      phrase: 'model',
    }),
    count: whole(1, MAX_UNITS, 'units').optional().meta({
      description: 'Identical units; default 1, or one a panel where the design is so.',
      phrase: 'number of units',
    }),
    ac_kw: number({ min: 0, max: 100_000, above: true }, 'kW').optional().meta({
      description: 'AC rating of one unit, kW; left out: estimated from the panels, for prices only.',
      phrase: 'AC power of a unit',
    }),
    age_years: number({ min: 0, max: 100 }, 'years')
      .optional()
      .meta({ description: 'Age of units in service at the start; default 0.', phrase: 'age at the start' }),
    failure: failureBlock.optional().describe('When units fail; left out: evidence.'),
    downtime: downtimeBlock.optional().describe('How long a failure lasts; left out: evidence.'),
    replacement: replacementBlock.optional().describe('Prices of a replacement.'),
    warranty: warrantyBlock.optional().describe('Cover; left out: evidence.'),
    successor: successorBlock.optional().describe('What it costs when the model is no longer made; left out: nothing.'),
    restore: choice([restoreWord, repairBlock], raw => (isTable(raw) ? 1 : 0))
      .optional()
      .meta({ description: 'replace (default), or {repair: {...}}.', phrase: 'what is done after a failure' }),
    // Ours: a shorter age is probably in another unit, and would take hours to play.
    replace_at_age_years: number({ min: 0.25, max: 100 }, 'years').optional().meta({
      description: 'Planned replacement at this age (M6); default none.',
      phrase: 'age of planned replacement',
    }),
    on_roof: flag()
      .optional()
      .meta({
        description: `Whether a visit needs roof access; default: ${manyOf(kind => kindOf(kind).onRoof)}.`,
        phrase: 'on the roof',
      }),
    needs_visit: flag()
      .optional()
      .meta({
        description: `Whether a person has to come; default true, ${manyOf(kind => !kindOf(kind).needsVisit)} false.`,
        phrase: 'needs a visit',
      }),
    share: share({ min: 0, max: 1, above: true }).optional().meta({
      description: 'Share of the option’s generation of the whole population (O4).',
      phrase: 'share of the generation',
    }),
    takes_string_down: ranged(share(), 'logit').optional().meta({
      description: '± Share of optimiser failures that stop their string.',
      phrase: 'share of optimiser failures that stop the string',
    }),
    strings: whole(1, 1000, 'strings')
      .optional()
      .meta({ description: 'Strings of one inverter; default 1.', phrase: 'strings of an inverter' }),
    inputs: whole(1, 100, 'inputs')
      .optional()
      .meta({ description: 'Tracker inputs of one inverter; default 2.', phrase: 'tracker inputs of an inverter' }),
    weighted_efficiency: share({ min: 0.5, max: 1 })
      .optional()
      .meta({ description: 'European weighted conversion efficiency.', phrase: 'weighted efficiency' }),
    phases: z
      .literal([1, 3], { error: issue => `found ${JSON.stringify(issue.input)}; allowed: 1 or 3` })
      .optional()
      .meta({
        description: 'Phases an inverter feeds; default one, three where it is over the limit of one phase.',
        phrase: 'phases of an inverter',
      }),
  },
  component => componentFlaws(component),
)

/** One population as written. */
export type GivenComponent = z.output<typeof componentBlock>

function componentFlaws(component: {
  readonly kind: ComponentKind
  readonly tier?: string | undefined
  readonly takes_string_down?: unknown
  readonly strings?: number | undefined
  readonly inputs?: number | undefined
  readonly phases?: number | undefined
}): readonly Flaw[] {
  const { kind, tier } = component
  const flaws: Flaw[] = []
  if (!hasTiers(kind) && tier !== undefined && tier !== 'plain')
    flaws.push({
      path: ['tier'],
      message: `found "${tier}" on ${oneOfKind(kind)}; only a ${wordsOf(hasTiers)} has tiers: drop it`,
    })
  if (!isOptimiser(kind) && component.takes_string_down !== undefined)
    flaws.push({
      path: ['takes_string_down'],
      message: `only an optimiser takes a string down; this is ${oneOfKind(kind)}`,
    })
  for (const key of ['strings', 'inputs', 'phases'] as const)
    if (component[key] !== undefined && !isCentralInverter(kind))
      flaws.push({
        path: [key],
        message: `only a ${wordsOf(isCentralInverter)} has ${key}; this is ${oneOfKind(kind)}`,
      })
  return flaws
}

function manyOf(holds: (kind: ComponentKind) => boolean): string {
  return COMPONENT_KINDS.filter(holds)
    .map(kind => kindWords(kind, 2))
    .join(' and ')
}

function wordsOf(holds: (kind: ComponentKind) => boolean): string {
  return COMPONENT_KINDS.filter(holds).join(' or ')
}

const listed = wording('a list of 1 to 50 components, e.g. [{kind: string-inverter}, {kind: optimiser, count: 8}]')

/** The components of an option. */
export const componentList = z
  .array(componentBlock, { error: listed })
  .min(1, { error: listed })
  .max(50, { error: listed })
