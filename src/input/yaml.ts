import { isAlias, isMap, isScalar, isSeq, LineCounter, type Node, type ParsedNode, parseDocument } from 'yaml'
import { InputError, type Problem } from '../errors.ts'
import type { KeyPath, Place, Source } from './problems.ts'

/** Largest YAML or JSON file read, in characters. Ours: a scenario of 50 options stays far under it. */
export const MAX_YAML_CHARACTERS = 2_000_000

/** Most values a file may hold once its aliases are written out. Ours: stops alias bombs. */
const MAX_VALUES = 200_000

/** Deepest nesting. Ours: a scenario needs nine levels. */
const MAX_DEPTH = 40

/** Keys that would reach into the language rather than name a value. */
const FORBIDDEN_KEYS: readonly string[] = ['__proto__', 'constructor', 'prototype']

/**
 * Reads YAML or JSON text into plain data that knows its lines.
 *
 * @param text - YAML 1.2 or JSON, one document
 * @param file - name for messages
 * @returns values with their places
 * @throws InputError when the text is too large, is not YAML, holds two equal keys, several documents, unknown tags,
 * forbidden keys, or grows too large through aliases
 */
export function parseYaml(text: string, file: string): Source {
  if (text.length > MAX_YAML_CHARACTERS)
    throw fileError(file, `the file has ${text.length} characters; the limit is ${MAX_YAML_CHARACTERS}`)
  const lines = new LineCounter()
  const document = parse(text, file, lines)
  const faults = [...document.errors, ...document.warnings]
  if (faults.length > 0)
    throw new InputError(
      faults.map(fault => ({
        file,
        ...placeAt(lines, fault.pos[0]),
        key: '',
        message: plainFault(fault.code, fault.message),
      })),
    )
  const reader = new Reader(file, lines, alias => alias.resolve(document) ?? null)
  const value = document.contents === null ? null : reader.read(document.contents, [])
  if (value === null) throw fileError(file, 'the file is empty')
  return { file, value, placeOf: path => reader.placeOf(path) }
}

function parse(text: string, file: string, lineCounter: LineCounter) {
  try {
    return parseDocument(text, { lineCounter, prettyErrors: false, version: '1.2', stringKeys: false })
  } catch (cause) {
    // The parser recurses once a level: thousands of open brackets run out of stack.
    if (cause instanceof RangeError)
      throw new InputError([{ file, line: null, column: null, key: '', message: tooDeep }], { cause })
    throw cause
  }
}

const tooDeep = `values are nested more than ${MAX_DEPTH} levels deep; that is the limit`

/** Turns nodes into plain data, keeping each place. */
class Reader {
  readonly #places = new Map<string, Place>()
  readonly #open = new Set<Node>()
  #values = 0

  constructor(
    readonly file: string,
    readonly lines: LineCounter,
    readonly resolve: (alias: Extract<Node, { source: string }>) => Node | null,
  ) {}

  placeOf(path: KeyPath): Place {
    for (let length = path.length; length >= 0; length--) {
      const place = this.#places.get(placeKey(path.slice(0, length)))
      if (place !== undefined) return place
    }
    return { line: null, column: null }
  }

  read(node: Node | ParsedNode, path: KeyPath): unknown {
    const place = placeAt(this.lines, node.range?.[0] ?? 0)
    if (!this.#places.has(placeKey(path))) this.#places.set(placeKey(path), place)
    this.#values += 1
    if (this.#values > MAX_VALUES)
      throw this.error(
        place,
        path,
        `the file grows to more than ${MAX_VALUES} values; write repeated parts out less often`,
      )
    if (path.length > MAX_DEPTH) throw this.error(place, path, tooDeep)
    if (isAlias(node)) return this.readAlias(node, path, place)
    if (isScalar(node)) return typeof node.value === 'bigint' ? Number(node.value) : node.value
    if (isSeq(node)) return node.items.map((item, index) => this.read(asNode(item), [...path, index]))
    if (isMap(node)) return this.readMap(node.items, path)
    return null
  }

  private readAlias(node: Extract<Node, { source: string }>, path: KeyPath, place: Place): unknown {
    const target = this.resolve(node)
    if (target === null) throw this.error(place, path, `nothing is named "${node.source}" before this line`)
    if (this.#open.has(target)) throw this.error(place, path, `"${node.source}" holds itself`)
    this.#open.add(target)
    const value = this.read(target, path)
    this.#open.delete(target)
    return value
  }

  private readMap(items: readonly { key: unknown; value: unknown }[], path: KeyPath): Record<string, unknown> {
    const map: Record<string, unknown> = {}
    for (const item of items) {
      const keyNode = asNode(item.key)
      const place = placeAt(this.lines, keyNode.range?.[0] ?? 0)
      if (!isScalar(keyNode) || !['string', 'number', 'boolean'].includes(typeof keyNode.value))
        throw this.error(place, path, 'a key must be a word or a number')
      const key = String(keyNode.value)
      if (FORBIDDEN_KEYS.includes(key)) throw this.error(place, path, `the key "${key}" is not allowed anywhere`)
      if (Object.hasOwn(map, key)) throw this.error(place, path, `the key "${key}" stands twice in the same block`)
      this.#places.set(placeKey([...path, key]), place)
      map[key] = item.value === null ? null : this.read(asNode(item.value), [...path, key])
    }
    return map
  }

  private error(place: Place, path: KeyPath, message: string): InputError {
    return new InputError([{ file: this.file, ...place, key: path.join('.'), message }])
  }
}

// The parser types keys and items as unknown; after parsing text they are always nodes.
function asNode(value: unknown): Node {
  return value as Node
}

function placeKey(path: KeyPath): string {
  return path.join('\u0000')
}

function placeAt(lines: LineCounter, offset: number): Place {
  const { line, col } = lines.linePos(offset)
  return { line, column: col }
}

function fileError(file: string, message: string): InputError {
  const problem: Problem = { file, line: null, column: null, key: '', message }
  return new InputError([problem])
}

function plainFault(code: string, message: string): string {
  switch (code) {
    case 'DUPLICATE_KEY':
      return 'this key stands twice in the same block; keep one'
    case 'MULTIPLE_DOCS':
      return 'the file holds several documents; keep one and drop the line "---" before the next'
    case 'TAG_RESOLVE_FAILED':
      return 'tags (words that begin with "!") are not read here; write the plain value'
    case 'TAB_AS_INDENT':
      return 'a tab is used to indent; use spaces'
    default:
      return `this cannot be read as YAML or JSON: ${message.replace(/\s+/g, ' ')}`
  }
}
