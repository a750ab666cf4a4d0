import * as z from 'zod'
import { type KeyPath, nearest, type Problems, show } from '../../input/problems.ts'

/** What could be read of a value: the same shape, with gaps where something was wrong. */
export type Draft<T> = T extends readonly (infer U)[]
  ? readonly (Draft<U> | undefined)[]
  : T extends object
    ? { readonly [K in keyof T]?: Draft<T[K]> | undefined }
    : T

/** One thing wrong inside a block, by its path from the block. */
export interface Flaw {
  readonly path: KeyPath
  readonly message: string
}

/** Longest list anywhere in a scenario; ours, so that an absurd file is refused at once. */
const MAX_LIST = 10_000

type Check = (value: unknown) => readonly Flaw[]

const checks = new WeakMap<z.core.$ZodType, Check>()
const alsoKnown = new WeakMap<z.core.$ZodType, readonly string[]>()
const forms = new WeakMap<z.core.$ZodType, string>()
const pickers = new WeakMap<z.core.$ZodType, (raw: unknown) => number>()

/**
 * A block of keys, no others allowed. Its check runs when each key by itself is right.
 *
 * @param shape - key to schema
 * @param check - what has to hold between the keys
 * @param form - how it is usually written, for the message where it is missing
 * @param also - keys of the short form, for suggestions only: they are rewritten before this block is read
 */
export function block<Shape extends z.core.$ZodLooseShape>(
  shape: Shape,
  check?: (value: z.output<z.ZodObject<Shape, z.core.$strict>>) => readonly Flaw[],
  form?: string,
  also?: readonly string[],
) {
  const schema = z.strictObject(shape)
  if (also !== undefined) alsoKnown.set(schema, also)
  // The walker passes a check only what its own schema has read.
  if (check !== undefined) checks.set(schema, check as Check)
  if (form !== undefined) forms.set(schema, form)
  return schema
}

/**
 * One of several forms, chosen by looking at the value first, so that a message is about the form that was meant.
 *
 * @param forms - the schemas
 * @param pick - index of the form a raw value is meant to have
 */
export function choice<const Forms extends readonly [z.ZodType, z.ZodType, ...z.ZodType[]]>(
  forms: Forms,
  pick: (raw: unknown) => number,
) {
  const schema = z.union(forms)
  pickers.set(schema, pick)
  return schema
}

/**
 * Reads a raw value by a schema, noting every problem on the way instead of stopping at the first. What is right is
 * returned even where something else is wrong, so that rules between blocks can still be tried.
 *
 * @param schema - block, list, choice or leaf
 * @param raw - the value as parsed
 * @param path - where it is
 * @param problems - takes what is wrong
 * @returns what could be read; complete if no problem was added
 */
export function walk<Schema extends z.core.$ZodType>(
  schema: Schema,
  raw: unknown,
  path: KeyPath,
  problems: Problems,
): Draft<z.output<Schema>> | undefined {
  // The branches follow the schema's own kind, so what they return has its output type.
  return visit(schema, raw, path, problems).value as Draft<z.output<Schema>> | undefined
}

/** What is registered for a schema; a described copy of a schema is looked up by its parent. */
function registered<T>(kept: WeakMap<z.core.$ZodType, T>, schema: z.core.$ZodType): T | undefined {
  const own = kept.get(schema)
  const { parent } = schema._zod
  return own ?? (parent === undefined ? undefined : registered(kept, parent))
}

interface Visited {
  readonly value: unknown
  readonly clean: boolean
}

function visit(schema: z.core.$ZodType, raw: unknown, path: KeyPath, problems: Problems): Visited {
  if (schema instanceof z.ZodOptional)
    return raw === undefined ? { value: undefined, clean: true } : visit(schema.unwrap(), raw, path, problems)
  if (schema instanceof z.ZodObject) return visitObject(schema, raw, path, problems)
  if (schema instanceof z.ZodArray) return visitArray(schema, raw, path, problems)
  if (schema instanceof z.ZodRecord) return visitRecord(schema, raw, path, problems)
  const pick = registered(pickers, schema)
  if (schema instanceof z.ZodUnion && pick !== undefined) {
    const form = schema.options[pick(raw)]
    if (form === undefined) throw new RangeError('a choice picked a form it does not have')
    return visit(form, raw, path, problems)
  }
  return visitLeaf(schema, raw, path, problems)
}

function visitLeaf(schema: z.core.$ZodType, raw: unknown, path: KeyPath, problems: Problems): Visited {
  const result = z.safeParse(schema, raw)
  if (result.success) return { value: result.data, clean: true }
  for (const issue of result.error.issues) problems.add([...path, ...keyPath(issue.path)], issue.message)
  return { value: undefined, clean: false }
}

function visitObject(schema: z.ZodObject, raw: unknown, path: KeyPath, problems: Problems): Visited {
  const known = Object.keys(schema.shape)
  if (!isBlock(raw)) {
    const found = raw === undefined ? 'missing; needed' : `found ${show(raw)}; allowed`
    const form = registered(forms, schema)
    if (form !== undefined) problems.add(path, `${found}: ${form}`)
    else problems.add(path, `${found}: a block with ${known.length === 1 ? 'the key' : 'keys of'} ${known.join(', ')}`)
    return { value: undefined, clean: false }
  }
  let clean = true
  for (const key of Object.keys(raw))
    if (!known.includes(key)) {
      problems.add([...path, key], unknownKey(schema, key, [...known, ...(registered(alsoKnown, schema) ?? [])]))
      clean = false
    }
  const value: Record<string, unknown> = Object.create(null)
  for (const [key, child] of Object.entries(schema.shape)) {
    // A key with nothing after it counts as left out.
    const visited = visit(child, raw[key] ?? undefined, [...path, key], problems)
    if (visited.value !== undefined) value[key] = visited.value
    clean &&= visited.clean
  }
  return checked(schema, value, clean, path, problems)
}

function visitArray(schema: z.ZodArray, raw: unknown, path: KeyPath, problems: Problems): Visited {
  if (!Array.isArray(raw)) return visitLeaf(schema, raw, path, problems)
  // Length first: a list far too long is not worth a message an item.
  const wrongLength = lengthIssues(schema, raw)
  for (const message of wrongLength) problems.add(path, message)
  if (wrongLength.length > 0) return { value: undefined, clean: false }
  const visited = raw.map((item, index) => visit(schema.element, item ?? undefined, [...path, index], problems))
  return { value: visited.map(item => item.value), clean: visited.every(item => item.clean) }
}

function lengthIssues(schema: z.ZodArray, raw: readonly unknown[]): readonly string[] {
  if (raw.length > MAX_LIST) return [`found a list of ${raw.length}; no list here may hold more than ${MAX_LIST}`]
  const issues = z.safeParse(schema, raw).error?.issues ?? []
  return issues.filter(issue => issue.path.length === 0).map(issue => issue.message)
}

function visitRecord(schema: z.ZodRecord, raw: unknown, path: KeyPath, problems: Problems): Visited {
  if (!isBlock(raw)) return visitLeaf(schema, raw, path, problems)
  const value: Record<string, unknown> = Object.create(null)
  let clean = true
  for (const [key, item] of Object.entries(raw)) {
    const keyResult = z.safeParse(schema.keyType, key)
    if (!keyResult.success) {
      for (const issue of keyResult.error.issues) problems.add([...path, key], issue.message)
      clean = false
      continue
    }
    const visited = visit(schema.valueType, item ?? undefined, [...path, key], problems)
    if (visited.value !== undefined) value[key] = visited.value
    clean &&= visited.clean
  }
  return checked(schema, value, clean, path, problems)
}

function checked(schema: z.core.$ZodType, value: unknown, clean: boolean, path: KeyPath, problems: Problems): Visited {
  if (!clean) return { value, clean }
  const flaws = registered(checks, schema)?.(value) ?? []
  for (const flaw of flaws) problems.add([...path, ...flaw.path], flaw.message)
  return { value, clean: flaws.length === 0 }
}

/** The message for a key that is not known: where it belongs, or what was probably meant. */
function unknownKey(schema: z.ZodObject, key: string, known: readonly string[]): string {
  // a decimal comma inside braces: {latitude: 48,2} is read as latitude 48 and a key 2
  if (/^\d+$/.test(key))
    return `found ${key} after a comma, which separates keys; write decimals with a point, like 48.2`
  const home = Object.entries(schema.shape).find(([, child]) => blockKeys(child).includes(key))
  if (home !== undefined) return `unknown key "${key}" here; it belongs inside "${home[0]}"`
  const meant = nearest(key, known)
  if (meant !== null) return `unknown key "${key}"; did you mean "${meant}"?`
  return `unknown key "${key}"; known here: ${known.join(', ')}`
}

function blockKeys(schema: z.core.$ZodType): readonly string[] {
  if (schema instanceof z.ZodOptional) return blockKeys(schema.unwrap())
  return schema instanceof z.ZodObject ? Object.keys(schema.shape) : []
}

function isBlock(raw: unknown): raw is Record<string, unknown> {
  return typeof raw === 'object' && raw !== null && !Array.isArray(raw)
}

function keyPath(path: readonly PropertyKey[]): KeyPath {
  return path.map(key => (typeof key === 'number' ? key : String(key)))
}

/**
 * A table from years to values, e.g. `{5: 10%, 15: 60%}`.
 *
 * @param value - schema of the values
 */
export function yearTable<Value extends z.ZodType>(value: Value) {
  const error = (issue: { readonly input?: unknown }) =>
    `found ${show(issue.input)}; allowed: a table from years to values, e.g. {5: 10%, 15: 60%}`
  const years = z.string().regex(/^(100|\d{1,2}(\.\d+)?)$/, {
    error: issue => `found ${show(issue.input)}; allowed: a number of years from 0 to 100`,
  })
  return z.record(years, value, { error })
}
