import {
  Composer,
  type CST,
  isAlias,
  isMap,
  isScalar,
  isSeq,
  Lexer,
  LineCounter,
  type Node,
  type ParsedNode,
  Parser,
} from 'yaml'
import { InputError, type Problem } from '../errors.ts'
import type { KeyPath, SourceValue, TextPlace } from './problems.ts'

/** Largest YAML or JSON file read, in characters. Ours: a full scenario of 50 options has about 200,000. */
export const MAX_YAML_CHARACTERS = 500_000

/** Most values of a file once its aliases are written out. Ours: against alias bombs. */
const MAX_VALUES = 200_000

/** Deepest nesting. Ours: a scenario needs nine levels. */
const MAX_DEPTH = 40

/** A number whose point may separate thousands. */
const THREE_DECIMALS = /^[1-9]\d{0,2}\.\d{3}$/

/** A key that JavaScript treats as the prototype of the object. */
const FORBIDDEN_KEY = '__proto__'

/**
 * Reads YAML or JSON text into plain data with the line of each value.
 *
 * @param text - YAML 1.2 or JSON, one document
 * @param file - name for messages
 * @returns values with their places
 * @throws InputError when the text is too large, is not YAML, has two equal keys, several documents, unknown tags or
 * forbidden keys, or grows too large through aliases
 */
export function parseYaml(text: string, file: string): SourceValue {
  if (text.length > MAX_YAML_CHARACTERS)
    throw fileError(file, `the file has ${text.length} characters; the limit is ${MAX_YAML_CHARACTERS}`)
  const lines = new LineCounter()
  const document = parse(text, file, lines)
  // One mistake causes further errors of the parser: only the first is reported.
  const first = [...document.errors].sort((a, b) => a.pos[0] - b.pos[0]).slice(0, 1)
  const faults = first.length > 0 ? first : document.warnings
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
  return { file, value, placeOf: path => reader.placeOf(path), threeDecimals: reader.threeDecimals }
}

function parse(text: string, file: string, lineCounter: LineCounter) {
  // Composing recurses once a level and a stack overflow can end the process, so the depth is checked before.
  if (opensTooOften(text)) throw fileError(file, tooDeep)
  const tokens = [...new Parser(lineCounter.addNewLine).parse(text)]
  if (deepest(tokens) > MAX_DEPTH) throw fileError(file, tooDeep)
  const composer = new Composer({ version: '1.2', prettyErrors: false, uniqueKeys: false })
  const [document, second] = [...composer.compose(tokens, true, text.length)]
  if (document === undefined) throw fileError(file, 'the file is empty')
  if (second !== undefined) throw new InputError([severalDocuments(file, lineCounter, second.range[0])])
  return document
}

function severalDocuments(file: string, lines: LineCounter, offset: number): Problem {
  const message = 'the file has several documents; keep one and drop the line "---" before the next'
  return { file, ...placeAt(lines, offset), key: '', message }
}

/** A first, cheap check: brackets open at one time, or list and key signs in a row on one line. */
function opensTooOften(text: string): boolean {
  let open = 0
  let inRow = 0
  for (const lexeme of new Lexer().lex(text)) {
    if (lexeme === '[' || lexeme === '{') open += 1
    else if (lexeme === ']' || lexeme === '}') open -= 1
    if (lexeme === '-' || lexeme === '?') inRow += 1
    else if (lexeme.trim() !== '') inRow = 0
    if (open > MAX_DEPTH || inRow > MAX_DEPTH) return true
  }
  return false
}

/** Nesting of the deepest value among tokens; without recursion. */
function deepest(tokens: readonly CST.Token[]): number {
  let found = 0
  const waiting: [token: CST.Token, depth: number][] = tokens.map(token => [token, 0])
  for (let next = waiting.pop(); next !== undefined; next = waiting.pop()) {
    const [token, depth] = next
    found = Math.max(found, depth)
    if (token.type === 'document' && token.value !== undefined) waiting.push([token.value, depth])
    if (!('items' in token)) continue
    for (const item of token.items)
      for (const child of [item.key, item.value]) if (child != null) waiting.push([child, depth + 1])
  }
  return found
}

const tooDeep = `values are nested more than ${MAX_DEPTH} levels deep; that is the limit`

/** Converts nodes to plain data and records the place of each. */
class Reader {
  readonly #places = new Map<string, TextPlace>()
  readonly #open = new Set<Node>()
  readonly threeDecimals: { path: KeyPath; written: string }[] = []
  #values = 0

  constructor(
    readonly file: string,
    readonly lines: LineCounter,
    readonly resolve: (alias: Extract<Node, { source: string }>) => Node | null,
  ) {}

  placeOf(path: KeyPath): TextPlace {
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
    if (isScalar(node)) {
      if (typeof node.value === 'number' && THREE_DECIMALS.test(node.source ?? ''))
        this.threeDecimals.push({ path, written: node.source ?? '' })
      return typeof node.value === 'bigint' ? Number(node.value) : node.value
    }
    this.#open.add(node)
    const value = isMap(node) ? this.readMap(node.items, path) : isSeq(node) ? this.readList(node.items, path) : null
    this.#open.delete(node)
    return value
  }

  private readList(items: readonly unknown[], path: KeyPath): unknown[] {
    return items.map((item, index) => this.read(asNode(item), [...path, index]))
  }

  private readAlias(node: Extract<Node, { source: string }>, path: KeyPath, place: TextPlace): unknown {
    const target = this.resolve(node)
    if (target === null) throw this.error(place, path, `nothing is named "${node.source}" before this line`)
    if (this.#open.has(target)) throw this.error(place, path, `"${node.source}" contains itself`)
    return this.read(target, path)
  }

  private readMap(items: readonly { key: unknown; value: unknown }[], path: KeyPath): Record<string, unknown> {
    // without a prototype: a key that is not there may be called `constructor` or `toString`
    const map: Record<string, unknown> = Object.create(null)
    for (const item of items) {
      const keyNode = asNode(item.key)
      const place = placeAt(this.lines, keyNode.range?.[0] ?? 0)
      if (!isScalar(keyNode) || !['string', 'number', 'boolean'].includes(typeof keyNode.value))
        throw this.error(place, path, 'a key must be a word or a number')
      const key = String(keyNode.value)
      if (key === FORBIDDEN_KEY) throw this.error(place, path, `the key "${key}" is not allowed anywhere`)
      if (Object.hasOwn(map, key))
        throw this.error(
          place,
          path,
          `the key "${key}" occurs twice in the same block; keep one, or begin a new list entry with "- "`,
        )
      this.#places.set(placeKey([...path, key]), place)
      map[key] = item.value === null ? null : this.read(asNode(item.value), [...path, key])
    }
    return map
  }

  private error(place: TextPlace, path: KeyPath, message: string): InputError {
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

function placeAt(lines: LineCounter, offset: number): TextPlace {
  const { line, col } = lines.linePos(offset)
  return { line, column: col }
}

function fileError(file: string, message: string): InputError {
  const problem: Problem = { file, line: null, column: null, key: '', message }
  return new InputError([problem])
}

function plainFault(code: string, message: string): string {
  switch (code) {
    case 'TAG_RESOLVE_FAILED':
      return 'tags (words that begin with "!") are not read here; write the plain value'
    case 'TAB_AS_INDENT':
      return 'a tab is used to indent; use spaces'
    case 'BAD_DIRECTIVE':
    case 'MISSING_CHAR':
      if (message.includes('directive')) return 'this is no YAML or JSON text; name the scenario file'
      return `this cannot be read as YAML or JSON: ${message.replace(/\s+/g, ' ')}`
    case 'BLOCK_AS_IMPLICIT_KEY':
      return 'there are two colons in a line, or the lines do not begin in the same column; put text with a colon in quotes'
    case 'MULTILINE_IMPLICIT_KEY':
      return 'a key needs a colon and a space after it, as in "panels: 20"; or the lines do not begin in the same column'
    case 'BAD_INDENT':
      return message.includes('Flow')
        ? 'a bracket opened before this line is not closed'
        : 'this line does not begin in the same column as its neighbours'
    default:
      return `this cannot be read as YAML or JSON: ${message.replace(/\s+/g, ' ')}`
  }
}
