import type { Assumption, Known } from '../../scenario/model/assumption.ts'
import { keyWords, tail } from '../../scenario/schema/key-words.ts'
import type { MarginNote } from '../content.ts'
import { joinWords } from '../names.ts'
import type { View } from './view.ts'

/** Fields of knowledge a finding may rest on; each is recognised by the last part of an assumption's key. */
export const TOPICS = {
  prices: /upfront|yearly_cost|replacement\.|call_out|roof_access|labour_growth|surcharge/,
  failures: /failure|shape|life|b10|failed_by|early|wear|spread|batch|tier_effect|susceptible|restore/,
  downtime: /detect|respond|repair_days|claim_days|monitoring|visit_policy/,
  cover: /warranty\.|exit_rate|successor/,
  energy:
    /kwh|energy_value|self_consumed|degradation|design_losses|mismatch|clipping|conversion|battery|roof\.|arrays|location\.|load\./,
  money: /discount|reserve\.|residual/,
} as const satisfies Record<string, RegExp>

/** One of the fields of knowledge. */
export type Topic = keyof typeof TOPICS

const TOPIC_WORDS: Readonly<Record<Topic, string>> = {
  prices: 'prices',
  failures: 'how units fail',
  downtime: 'delays',
  cover: 'cover',
  energy: 'energy',
  money: 'money',
}

/** What each grade of knowledge is called in the report, best known first. */
export const KNOWN_WORDS: Readonly<Record<Known, string>> = {
  yours: 'Yours',
  published: 'Published',
  derived: 'Derived',
  recalled: 'Recalled',
  judgement: 'Judgement',
}

const GRADES: readonly Known[] = ['yours', 'published', 'derived', 'recalled', 'judgement']

/**
 * How well what a finding rests on is known: one note a grade, best known first, and only the grades that occur.
 *
 * @param view - prepared results
 * @param topics - what the finding rests on
 * @returns notes; one note 'Not on record' where no assumption belongs to the topics
 */
export function howKnown(view: View, topics: readonly Topic[]): MarginNote[] {
  const used = view.results.inputs.filter(input => topics.some(topic => TOPICS[topic].test(tail(input.key))))
  const notes = GRADES.flatMap(known => {
    const those = used.filter(input => input.known === known)
    return those.length === 0
      ? []
      : [{ known: KNOWN_WORDS[known], text: `${gradeText(those)}.`, ...from(known, those) }]
  })
  return notes.length > 0 ? notes : [{ known: 'Not on record', text: 'No assumption is listed for this finding.' }]
}

// Ours: more names than these are not read; the list of assumptions has them all.
const MOST_NAMES = 4

function gradeText(inputs: readonly Assumption[]): string {
  const words = [...new Set(inputs.map(input => keyWords(input.key)))]
  return joinWords(words.length > MOST_NAMES ? counts(inputs) : words)
}

/** The first sources of published, derived and recalled figures. */
function from(known: Known, inputs: readonly Assumption[]): { from?: string } {
  if (known === 'yours' || known === 'judgement') return {}
  const sources = [...new Set(inputs.map(shortSource))]
  return { from: `From: ${sources.slice(0, 2).join('; ')}${sources.length > 2 ? '; and others' : ''}.` }
}

/** How many figures belong to each topic; a figure counts for the first topic that it matches. */
function counts(inputs: readonly Assumption[]): string[] {
  const words = new Map<string, Set<string>>()
  for (const { key } of inputs) {
    const topic = Object.keys(TOPICS).find((name): name is Topic => TOPICS[name as Topic].test(tail(key))) // keys of TOPICS
    if (topic === undefined) continue
    words.set(TOPIC_WORDS[topic], (words.get(TOPIC_WORDS[topic]) ?? new Set()).add(keyWords(key)))
  }
  return [...words].map(([topic, those], index) =>
    index === 0 ? `${those.size} ${those.size === 1 ? 'figure' : 'figures'} on ${topic}` : `${those.size} on ${topic}`,
  )
}

/** Authors and year, where the source begins with them; else its first words. */
function shortSource(input: Assumption): string {
  const authorsAndYear = /^(.{3,80}?\b(?:19|20)\d{2}\b\)?)/.exec(input.source)
  return authorsAndYear?.[1] ?? input.source.slice(0, 60)
}
