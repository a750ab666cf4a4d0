import type { EvidenceFigure } from '../../evidence/figure.ts'
import { weakestOf } from '../../evidence/index.ts'
import { SOURCES } from '../../evidence/sources.ts'
import type { SpreadScale } from '../../numerics/distributions/two-piece.ts'
import type { Assumption, Known, Note } from '../model/assumption.ts'
import type { UnknownInput } from '../model/unknown-input.ts'
import type { Quantity } from '../quantity.ts'
import { keyUnit } from '../schema/key-words.ts'
import { type Given, givenMiddle } from '../schema/range.ts'

/** Source of every value that the user wrote. */
export const YOURS = 'your scenario'

/** A built-in figure as it enters a scenario: times a factor for prices and ratings. */
export interface Filling {
  readonly figure: EvidenceFigure
  /** Multiplies value and range; 1 unless given. */
  readonly factor?: number
  /** Text after the source, e.g. how a price was converted. */
  readonly remark?: string
}

/** A default that is a choice of this program. */
export interface Choice {
  readonly choice: number
  readonly remark: string
}

/** A value to settle: what the user wrote, and what fills the gap. */
export interface AskedValue {
  /** Key of the assumption; options and components are named. Its unit is that of the schema. */
  readonly key: string
  readonly given: Given | undefined
  readonly filling: Filling | Choice
}

/** As `AskedValue`, for a key that may be a range (U1a). */
export interface AskedRange extends AskedValue {
  readonly scale: SpreadScale
  /** Name of the unknown where the range is written in the scenario without a `name`. */
  readonly unknownName: string
  /** Name of the unknown where the range comes from evidence: one a kind and key (U1b). */
  readonly evidenceName: string
  /** As the report calls the unknown. */
  readonly label: string
  readonly evidenceLabel: string
  /** Whether a rule reads it in this scenario (U1); else the middle is taken and nothing is drawn. */
  readonly read: boolean
  /** Whether a range of the evidence is drawn; false where it is only shown (U1b). */
  readonly evidenceDrawn: boolean
}

/** Collects assumptions, notes and unknowns while a scenario is completed. */
export class Resolution {
  readonly assumptions: Assumption[] = []
  readonly notes: Note[] = []
  readonly unknowns: UnknownInput[] = []
  readonly #places = new Map<string, number>()

  constructor(
    /** Currency of the scenario, the unit of prices. */
    readonly currency: string,
  ) {}

  /** A known value: the user's number, or the middle of the figure that fills it. */
  value(asked: AskedValue): number {
    const value = asked.given === undefined ? fillingValue(asked.filling) : middleOfGiven(asked.given)
    this.#list(asked, value)
    return value
  }

  /** A value that may be a range; the range becomes an unknown where a rule reads it (U1). */
  quantity(asked: AskedRange): Quantity {
    const range = asked.given === undefined ? fillingRange(asked) : givenRange(asked.given, asked.scale)
    const middle = range?.middle ?? this.#plainValue(asked)
    this.#list(asked, middle, range)
    if (range === null || !asked.read) return middle
    const yours = asked.given !== undefined
    const name = yours ? (range.name ?? asked.unknownName) : asked.evidenceName
    const unknown = this.unknown({
      name,
      label: yours ? asked.label : asked.evidenceLabel,
      unit: keyUnit(asked.key, this.currency),
      low: range.low,
      middle,
      high: range.high,
      kind: 'normal',
      known: yours ? 'yours' : gradeOf(asked.filling),
    })
    return { unknown, scale: asked.scale, low: range.low, middle, high: range.high }
  }

  /** Index of an unknown; one name is one unknown (U1b). */
  unknown(input: UnknownInput): number {
    const known = this.#places.get(input.name)
    if (known !== undefined) return known
    this.unknowns.push(input)
    this.#places.set(input.name, this.unknowns.length - 1)
    return this.unknowns.length - 1
  }

  /** Lists a value in words, the user's or a default. */
  word(key: string, given: string | undefined, fallback: string, remark = 'choice of this program'): void {
    const yours = given !== undefined
    this.assumptions.push({
      key,
      value: given ?? fallback,
      low: null,
      high: null,
      unit: '',
      source: yours ? YOURS : remark,
      known: yours ? 'yours' : 'judgement',
      weakest: yours ? null : SOURCES.choice.weakest,
    })
  }

  /** Adds a note for the reader; equal notes are listed once. */
  note(code: string, text: string, option: string | null = null): void {
    if (!this.notes.some(note => note.code === code && note.text === text && note.option === option))
      this.notes.push({ code, text, option })
  }

  #plainValue(asked: AskedValue): number {
    return asked.given === undefined ? fillingValue(asked.filling) : middleOfGiven(asked.given)
  }

  #list(asked: AskedValue, value: number, range: { low: number; high: number } | null = null): void {
    const listed = { key: asked.key, value, unit: keyUnit(asked.key, this.currency) }
    if (asked.given !== undefined) {
      this.#add({
        ...listed,
        low: range?.low ?? null,
        high: range?.high ?? null,
        source: YOURS,
        known: 'yours',
        weakest: null,
      })
    } else if ('choice' in asked.filling) {
      const source = `${SOURCES.choice.text}: ${asked.filling.remark}`
      this.#add({ ...listed, low: null, high: null, source, known: 'judgement', weakest: SOURCES.choice.weakest })
    } else {
      const { figure, factor = 1, remark } = asked.filling
      const { text } = SOURCES[figure.source]
      this.#add({
        ...listed,
        low: figure.low === null ? null : figure.low * factor,
        high: figure.high === null ? null : figure.high * factor,
        source: remark === undefined ? text : `${text}; ${remark}`,
        known: figure.known,
        weakest: weakestOf(figure),
      })
    }
  }

  #add(assumption: Assumption): void {
    // A figure that several units share by name (a provider) is listed once.
    if (!this.assumptions.some(known => known.key === assumption.key)) this.assumptions.push(assumption)
  }
}

function gradeOf(filling: Filling | Choice): Known {
  return 'choice' in filling ? 'judgement' : filling.figure.known
}

function fillingValue(filling: Filling | Choice): number {
  return 'choice' in filling ? filling.choice : filling.figure.value * (filling.factor ?? 1)
}

interface RangeOfValue {
  readonly low: number
  readonly middle: number
  readonly high: number
  readonly name?: string | undefined
}

function fillingRange(asked: AskedRange): RangeOfValue | null {
  if ('choice' in asked.filling || !asked.evidenceDrawn) return null
  const { figure, factor = 1 } = asked.filling
  if (figure.low === null || figure.high === null) return null
  // A price of nothing, as for a battery of 0 kWh, has no range.
  if (!(figure.low * factor < figure.high * factor)) return null
  return { low: figure.low * factor, middle: figure.value * factor, high: figure.high * factor }
}

function givenRange(given: Given, scale: SpreadScale): RangeOfValue | null {
  if (typeof given === 'number') return null
  return { low: given.low, middle: givenMiddle(given, scale), high: given.high, name: given.name }
}

// Called only for keys outside U1a, whose schema refuses ranges.
function middleOfGiven(given: Given): number {
  return typeof given === 'number' ? given : givenMiddle(given, 'linear')
}
