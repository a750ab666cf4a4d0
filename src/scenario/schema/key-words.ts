/**
 * What a key of a scenario is called. The words are in the schema of the key; those of keys that only the evidence fills,
 * in the evidence.
 */

import { z } from 'zod'
import { figurePhrase } from '../../evidence/index.ts'
import { componentBlock } from './component.ts'
import { optionBlock } from './option.ts'
import { scenarioBlock } from './scenario.ts'

declare module 'zod' {
  interface GlobalMeta {
    /** What the report calls the value. `{block}`: the phrase of the key that holds this one. */
    phrase?: string
    /** What the report calls the sum or mean of its values. */
    whole?: string
    /** What the report calls an entry of a list or table: `{place}` its number or name, `{phrase}` what is inside. */
    each?: string
    /** Phrases of values that the program adds to a block. */
    filled?: Readonly<Record<string, string>>
  }
}

/** The keys of a schema's metadata that hold words for the report. */
export const REPORT_WORDS = ['phrase', 'whole', 'each', 'filled'] as const

/** Between option, component and path in the key of an assumption. */
const MARK = ' / '

/** Phrases that were asked for before: a report asks for each many times, and the schema is walked for one. */
const phrases = new Map<string, string | null>()

/**
 * The last part of the key of an assumption, without option and component.
 *
 * @param key - e.g. `Plain string inverter / string-inverter / warranty.years`
 * @returns e.g. `warranty.years`
 */
export function tail(key: string): string {
  const mark = key.lastIndexOf(MARK)
  return mark < 0 ? key : key.slice(mark + MARK.length)
}

/**
 * A key as a reader would say it.
 *
 * @param key - whole key or its last part, from the root, the option or the component
 * @returns e.g. `years of parts cover`; the key without its marks where nothing has a phrase for it
 */
export function keyWords(key: string): string {
  return keyPhrase(key) ?? tail(key).split('.').slice(-2).join(' ').replace(/[_-]/g, ' ')
}

/**
 * The phrase of a key.
 *
 * @param key - whole key or its last part, from the root, the option or the component
 * @returns e.g. `years of parts cover`; null where nothing has a phrase for it
 */
export function keyPhrase(key: string): string | null {
  const path = tail(key)
  let phrase = phrases.get(path)
  if (phrase === undefined) {
    phrase = phraseOf(path)
    phrases.set(path, phrase)
  }
  return phrase
}

function phraseOf(path: string): string | null {
  for (const block of [scenarioBlock, optionBlock, componentBlock]) {
    const found = within(block, path, '')
    if (found !== null) return found
  }
  return figurePhrase(path)
}

/** The phrase of what a path leads to inside a schema; `block` is the phrase of the schema itself. */
function within(schema: z.core.$ZodType, path: string, block: string): string | null {
  if (schema instanceof z.ZodOptional) return within(schema.unwrap(), path, block)
  if (schema instanceof z.ZodUnion)
    return schema.options.map(form => within(form, path, block)).find(found => found !== null) ?? null
  if (!(schema instanceof z.ZodObject)) return null
  for (const [key, child] of Object.entries(schema.shape)) {
    const found = ofChild(child, key, path, block)
    if (found !== null) return found
  }
  return null
}

function ofChild(child: z.core.$ZodType, key: string, path: string, block: string): string | null {
  const { phrase, whole, each, filled } = z.globalRegistry.get(child) ?? {}
  const said = phrase?.replace('{block}', block) ?? null
  if (path === key) return said
  if (path.startsWith(`${key} (`)) return whole ?? null
  const [mark, inside] = [path[key.length], path.slice(key.length + 1)]
  if (!path.startsWith(key) || (mark !== '.' && mark !== ' ')) return null
  return (
    filled?.[inside] ?? (each === undefined ? null : ofEntry(child, inside, each)) ?? within(child, inside, said ?? '')
  )
}

/** The phrase of an entry of a list or table, or of a key inside one; without a place it speaks of any of them. */
function ofEntry(list: z.core.$ZodType, path: string, each: string): string | null {
  if (list instanceof z.ZodOptional) return ofEntry(list.unwrap(), path, each)
  if (!(list instanceof z.ZodArray)) return each.replace('{place}', path)
  const any = within(list.element, path, '')
  if (any !== null) return any
  if (!each.includes('{phrase}')) return each.replace('{place}', path)
  const [, place = '', inside = ''] = /^(\d+)\.(.+)$/.exec(path) ?? /^(.+)\.([^.]+)$/.exec(path) ?? []
  const phrase = within(list.element, inside, '')
  const number = /^\d+$/.test(place) ? `${Number(place) + 1}` : place
  return phrase === null ? null : each.replace('{phrase}', () => phrase).replace('{place}', () => number)
}
