/**
 * What a key of a scenario is called, and its unit. Both are in the schema of the key; those of keys that only the
 * evidence fills, in the evidence.
 */

import * as z from 'zod'
import { phrasedFigure } from '../../evidence/index.ts'
import { componentBlock } from './component.ts'
import { optionBlock } from './option.ts'
import { scenarioBlock } from './scenario.ts'

declare module 'zod' {
  interface GlobalMeta {
    /** Unit of the value: `share` is a number in [0, 1], `{currency}` that of the scenario; '' for none. */
    unit?: string
    /** What the report calls the value. `{block}`: the phrase of the key that holds this one. */
    phrase?: string
    /** What the report calls the sum or mean of its values. */
    whole?: string
    /** What the report calls an entry of a list or table: `{place}` its number or name, `{phrase}` what is inside. */
    each?: string
    /** Words of values that the program adds to a block. */
    filled?: Readonly<Record<string, KeyMeta>>
  }
}

/** What the schema says of one key. */
interface KeyMeta {
  readonly phrase: string
  readonly unit: string
}

/**
 * The keys of a schema's metadata that are for the report. The published schema does not have them: an editor has no use
 * for the phrases, and the unit is in the name or the description of the key.
 */
export const REPORT_WORDS = ['phrase', 'whole', 'each', 'filled', 'unit'] as const

/** Between option, component and path in the key of an assumption. */
const MARK = ' / '

/** Phrases found before: a report needs each many times, and finding one walks the schema. */
const metas = new Map<string, KeyMeta | null>()

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
  return keyMeta(key)?.phrase ?? null
}

/**
 * The unit of a key.
 *
 * @param key - whole key or its last part, from the root, the option or the component
 * @param currency - of the scenario
 * @returns e.g. `years`, `EUR/kWh`; '' for none
 * @throws RangeError where nothing knows the key: a fault of the program
 */
export function keyUnit(key: string, currency: string): string {
  const meta = keyMeta(key)
  if (meta === null) throw new RangeError(`no schema and no figure knows the key ${key}`)
  return meta.unit.replace('{currency}', currency)
}

function keyMeta(key: string): KeyMeta | null {
  // the last mark separates place and path, unless a name in the path contains one
  for (let mark = key.lastIndexOf(MARK); ; mark = key.lastIndexOf(MARK, mark - 1)) {
    const found = pathMeta(mark < 0 ? key : key.slice(mark + MARK.length))
    if (found !== null || mark <= 0) return found
  }
}

function pathMeta(path: string): KeyMeta | null {
  let meta = metas.get(path)
  if (meta === undefined) {
    meta =
      firstOf([scenarioBlock, optionBlock, componentBlock], block => within(block, path, '')) ?? phrasedFigure(path)
    metas.set(path, meta)
  }
  return meta
}

function firstOf<One, Found>(those: readonly One[], find: (one: One) => Found | null): Found | null {
  for (const one of those) {
    const found = find(one)
    if (found !== null) return found
  }
  return null
}

/** The metadata of the value that a path leads to inside a schema; `block` is the phrase of the schema itself. */
function within(schema: z.core.$ZodType, path: string, block: string): KeyMeta | null {
  if (schema instanceof z.ZodOptional) return within(schema.unwrap(), path, block)
  if (schema instanceof z.ZodUnion) return firstOf(schema.options, form => within(form, path, block))
  if (!(schema instanceof z.ZodObject)) return null
  return firstOf(Object.entries(schema.shape), ([key, child]) => ofChild(child, key, path, block))
}

function ofChild(child: z.core.$ZodType, key: string, path: string, block: string): KeyMeta | null {
  const { phrase, whole, each, filled } = z.globalRegistry.get(child) ?? {}
  const said = phrase?.replace('{block}', block) ?? null
  if (path === key) return withUnit(said, child)
  if (path.startsWith(`${key} (`)) return withUnit(whole ?? null, child)
  const [mark, inside] = [path[key.length], path.slice(key.length + 1)]
  if (!path.startsWith(key) || (mark !== '.' && mark !== ' ')) return null
  return (
    filled?.[inside] ?? (each === undefined ? null : ofEntry(child, inside, each)) ?? within(child, inside, said ?? '')
  )
}

/** The metadata of an entry of a list or table, or of a key inside one; without a place, of any of them. */
function ofEntry(list: z.core.$ZodType, path: string, each: string): KeyMeta | null {
  if (list instanceof z.ZodOptional) return ofEntry(list.unwrap(), path, each)
  if (!(list instanceof z.ZodArray)) return withUnit(each.replace('{place}', path), list)
  const any = within(list.element, path, '')
  if (any !== null) return any
  if (!each.includes('{phrase}')) return withUnit(each.replace('{place}', path), list)
  const [, place = '', inside = ''] = /^(\d+)\.(.+)$/.exec(path) ?? /^(.+)\.([^.]+)$/.exec(path) ?? []
  const found = within(list.element, inside, '')
  const number = /^\d+$/.test(place) ? `${Number(place) + 1}` : place
  if (found === null) return null
  return { ...found, phrase: each.replace('{phrase}', () => found.phrase).replace('{place}', () => number) }
}

function withUnit(phrase: string | null, schema: z.core.$ZodType): KeyMeta | null {
  return phrase === null ? null : { phrase, unit: unitOf(schema) ?? '' }
}

/** The unit of a value; of a list or table that of its entries, of a choice that of its first form with one. */
function unitOf(schema: z.core.$ZodType): string | null {
  const { unit } = z.globalRegistry.get(schema) ?? {}
  if (unit !== undefined) return unit
  if (schema instanceof z.ZodOptional) return unitOf(schema.unwrap())
  if (schema instanceof z.ZodUnion) return firstOf(schema.options, unitOf)
  if (schema instanceof z.ZodArray) return unitOf(schema.element)
  return schema instanceof z.ZodRecord ? unitOf(schema.valueType) : null
}
