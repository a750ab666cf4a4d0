import type { Assumption, Known } from '../scenario/model.ts'
import type { MarginNote } from './content.ts'
import { joinWords } from './names.ts'
import type { View } from './view.ts'

/** Fields of knowledge a finding may rest on; each is told by the last part of an assumption's key. */
export const TOPICS = {
  prices: /upfront|yearly_cost|parts|labour$|labour_each|call_out|roof_access|growth|surcharge/,
  failures: /failure|shape|life|b10|failed_by|early|wear|spread|batch|tier_effect|susceptible|restore/,
  downtime: /detect|respond|repair_days|claim_days|monitoring|visit_policy/,
  cover: /warranty|labour_years|claim_success|exit_rate|cover|successor/,
  energy: /kwh|energy_value|self_consumed|degradation|design_losses|mismatch|clipping|conversion|battery/,
  money: /discount|interest|inflation|confidence|opening|residual/,
} as const satisfies Record<string, RegExp>

/** One of the fields of knowledge. */
export type Topic = keyof typeof TOPICS

/** What each grade of knowledge is called in the report, best known first. */
export const KNOWN_WORDS: Readonly<Record<Known, string>> = {
  yours: 'Yours',
  published: 'Published',
  recalled: 'Recalled',
  judgement: 'Judgement',
}

const GRADES: readonly Known[] = ['yours', 'published', 'recalled', 'judgement']

/**
 * How well what a finding rests on is known: one note a grade, best known first, and only the grades that occur.
 *
 * @param view - prepared results
 * @param topics - what the finding rests on
 * @returns notes; one that says 'nothing on record' where no assumption belongs to the topics
 */
export function howKnown(view: View, topics: readonly Topic[]): MarginNote[] {
  const used = view.results.inputs.filter(input => topics.some(topic => TOPICS[topic].test(tail(input.key))))
  const notes = GRADES.flatMap(known => {
    const those = used.filter(input => input.known === known)
    return those.length === 0 ? [] : [{ known: KNOWN_WORDS[known], text: `${gradeText(known, those)}.` }]
  })
  return notes.length > 0 ? notes : [{ known: 'Not on record', text: 'No assumption is listed for this finding.' }]
}

/**
 * The last part of the key of an assumption, without option and component.
 *
 * @param key - e.g. `Plain string inverter / string-inverter / warranty.years`
 * @returns e.g. `warranty.years`
 */
export function tail(key: string): string {
  return key.split(' / ').at(-1) ?? key
}

/**
 * A key as words.
 *
 * @param key - whole key or its last part
 * @returns e.g. `warranty years`
 */
export function keyWords(key: string): string {
  const last = tail(key)
  const failedBy = /failed_by\.(\d+)$/.exec(last)
  if (failedBy !== null) return `share failed by year ${failedBy[1]}`
  return (
    WORDS[last.replace(/^site\./, '')] ??
    last
      .split('.')
      .slice(-2)
      .join(' ')
      .replace(/[_-]/g, ' ')
      .replace(/^(site|visit|replacement) /, '')
  )
}

const WORDS: Readonly<Record<string, string>> = {
  upfront_cost: 'purchase price',
  'visit.call_out': 'call-out',
  'visit.roof_access': 'roof access',
  'visit.labour_growth': 'growth of labour prices',
  'replacement.parts': 'price of parts',
  'replacement.labour': 'price of labour',
  'replacement.labour_each_further': 'labour for each further unit',
  'replacement.parts_growth': 'growth of parts prices',
  'warranty.years': 'years of parts cover',
  'warranty.labour_years': 'years of labour cover',
  'warranty.claim_success': 'claims that succeed',
  'warranty_provider.exit_rate_per_year': 'rate at which makers leave',
  'labour_provider.exit_rate_per_year': 'rate at which installers leave',
  'downtime.detect_days': 'days until somebody notices',
  'downtime.detect_days_unmonitored': 'days until somebody notices, without alerts',
  'downtime.respond_days': 'days until somebody comes',
  'downtime.repair_days': 'days of repair',
  'downtime.claim_days': 'days that a claim adds',
  'generation.monthly_kwh': 'energy of each month',
  'generation.annual_kwh': 'energy of a year',
  'generation.degradation': 'ageing of the panels',
  'warranty.replacement_cover': 'cover of a replaced unit',
  'warranty.visits_covered': 'call-outs under cover',
  'warranty.parts': 'share of parts that cover pays',
  'warranty.labour': 'share of labour that cover pays',
  discount_rate: 'discount rate',
  tier_effect: 'how much tiers differ in reliability',
  'failure.shape': 'how failures grow with age',
  'energy_value.import_price_per_kwh': 'import price',
  'energy_value.export_price_per_kwh': 'export price',
  'energy_value.self_consumed': 'share used in the house',
}

function gradeText(known: Known, inputs: readonly Assumption[]): string {
  const words = [...new Set(inputs.map(input => keyWords(input.key)))]
  const shown = words.length > 4 ? [...words.slice(0, 3), `${words.length - 3} more`] : words
  const sources =
    known === 'published' || known === 'recalled' ? [...new Set(inputs.map(input => shortSource(input)))] : []
  const said = sources.length === 0 ? '' : ` (${sources.slice(0, 2).join('; ')}${sources.length > 2 ? '; …' : ''})`
  return joinWords(shown) + said
}

/** Authors and year, where the source begins with them; else its first words. */
function shortSource(input: Assumption): string {
  const authorsAndYear = /^(.{3,80}?\b(?:19|20)\d{2}\b)/.exec(input.source)
  return authorsAndYear?.[1] ?? input.source.slice(0, 60)
}
