import { z } from 'zod'
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
import { failureBlock } from './failure.ts'
import { flag, growth, isRange, money, number, oneOf, share, text, whole, wording } from './leaf.ts'
import { ranged } from './range.ts'
import { block, choice, type Flaw, yearTable } from './walk.ts'

/** Most units of one option. */
export const MAX_UNITS = 100_000

const days = () => number({ min: 0, max: 3650 }, 'days')

const delayTable = block(
  {
    median: ranged(number({ min: 0, max: 3650, above: true }, 'days'), 'log').describe(
      '± Half are done by then, days.',
    ),
    p90: number({ min: 0, max: 36_500, above: true }, 'days').describe('Nine in ten are done by then, days.'),
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
  detect_days: delay().optional().describe('± From failure to notice while monitoring works: days or {median, p90}.'),
  detect_days_unmonitored: delay().optional().describe('± The same while it does not.'),
  respond_days: delay().optional().describe('± From notice to the visit.'),
  repair_days: delay().optional().describe('± From the visit to the return to service.'),
  claim_days: days().optional().describe('Days of energy lost beside these where a maker has to be asked for parts.'),
})

/** What a replacement costs (W4). */
export const replacementBlock = block(
  {
    parts: ranged(money(), 'log').optional().describe('± Price of a new unit.'),
    labour: ranged(money(), 'log').optional().describe('± Labour for the first unit of a visit, without call-out.'),
    labour_each_further: ranged(money(), 'log')
      .optional()
      .describe('± Labour for each further unit; left out: as labour.'),
    parts_growth: ranged(growth(), 'linear').optional().describe('± Real growth of parts prices a year.'),
  },
  undefined,
  'prices of a replacement, e.g. {parts: 950, labour: 280}',
)

/** Terms of cover (W1-W4). */
export const warrantyBlock = block(
  {
    years: number({ min: 0, max: 100 }, 'years').optional().describe('Parts cover, years from the start of service.'),
    labour_years: number({ min: 0, max: 100 }, 'years').optional().describe('Labour cover, years.'),
    parts: share().optional().describe('Share of parts that cover pays; default 100 %.'),
    labour: share().optional().describe('Share of labour that cover pays; default 100 %.'),
    claim_success: ranged(share(), 'logit').optional().describe('± Claims granted while the provider exists.'),
    replacement_cover: oneOf(['remaining', 'renewed', 'new-if-bought'])
      .optional()
      .describe('Cover of a replacement (W3); default new-if-bought.'),
    replacement_min_years: number({ min: 0, max: 100 }, 'years')
      .optional()
      .describe('Least cover of a unit supplied under cover, years; default 0.'),
    visits_covered: flag().optional().describe('Whether labour cover pays call-out and access too; default false.'),
  },
  undefined,
  'terms of cover, e.g. {years: 10, labour_years: 2}',
)

const successorBlock = block(
  {
    surcharge: money().describe('Paid once a slot when the model is no longer made (M8).'),
    chance: yearTable(share()).describe('Share of models out of production by an age, e.g. {5: 10%, 15: 60%}.'),
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
    renews: share().describe('0 %: as old as before; 100 %: as good as new (M3).'),
    parts: money().describe('Parts of a repair.'),
    labour: money().describe('Labour of a repair.'),
    at_most: whole(0, 1000, 'repairs')
      .optional()
      .describe('Repairs before the next failure replaces; default no limit.'),
  }).describe('A failed unit is repaired instead of replaced.'),
})

const restoreWord = z.literal('replace', { error: wording('replace, or {repair: {renews, parts, labour}}') })

/** One population as written. */
export const componentBlock = block(
  {
    kind: oneOf(COMPONENT_KINDS).describe('What the units are.'),
    tier: oneOf(TIERS).optional().describe('Row of the evidence; string inverters only; default plain.'),
    model: text().optional().describe('Any word; populations of one model share its fate (M4).'),
    count: whole(1, MAX_UNITS, 'units')
      .optional()
      .describe('Identical units; default 1, or one a panel where the design is so.'),
    ac_kw: number({ min: 0, max: 100_000, above: true }, 'kW')
      .optional()
      .describe('AC rating of one unit, kW; left out: estimated from the panels, for prices only.'),
    age_years: number({ min: 0, max: 100 }, 'years')
      .optional()
      .describe('Age of units in service at the start; default 0.'),
    failure: failureBlock.optional().describe('When units fail; left out: evidence.'),
    downtime: downtimeBlock.optional().describe('How long a failure lasts; left out: evidence.'),
    replacement: replacementBlock.optional().describe('Prices of a replacement.'),
    warranty: warrantyBlock.optional().describe('Cover; left out: evidence.'),
    successor: successorBlock.optional().describe('What it costs when the model is no longer made; left out: nothing.'),
    restore: choice([restoreWord, repairBlock], raw => (isTable(raw) ? 1 : 0))
      .optional()
      .describe('replace (default), or {repair: {...}}.'),
    // Ours: more often than every season is meant in other units, and would play for hours.
    replace_at_age_years: number({ min: 0.25, max: 100 }, 'years')
      .optional()
      .describe('Planned replacement at this age (M6); default none.'),
    on_roof: flag()
      .optional()
      .describe(`Whether a visit needs roof access; default: ${manyOf(kind => kindOf(kind).onRoof)}.`),
    needs_visit: flag()
      .optional()
      .describe(`Whether a person has to come; default true, ${manyOf(kind => !kindOf(kind).needsVisit)} false.`),
    share: share({ min: 0, max: 1, above: true })
      .optional()
      .describe('Share of the option’s generation of the whole population (O4).'),
    takes_string_down: ranged(share(), 'logit')
      .optional()
      .describe('± Share of optimiser failures that stop their string.'),
    strings: whole(1, 1000, 'strings').optional().describe('Strings of one inverter; default 1.'),
    inputs: whole(1, 100, 'inputs').optional().describe('Tracker inputs of one inverter; default 2.'),
    weighted_efficiency: share({ min: 0.5, max: 1 }).optional().describe('European weighted conversion efficiency.'),
    phases: z
      .literal([1, 3], { error: issue => `found ${JSON.stringify(issue.input)}; allowed: 1 or 3` })
      .optional()
      .describe('Phases an inverter feeds; default one, three where it is over the limit of one phase.'),
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
