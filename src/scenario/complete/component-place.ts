import { figureOf, findFigure } from '../../evidence/index.ts'
import type { EvidenceRowKey } from '../../evidence/rows.ts'
import type { SpreadScale } from '../../numerics/distributions/two-piece.ts'
import { type ComponentKind, evidenceRow, kindWords } from '../../topologies/kinds.ts'
import type { Quantity } from '../quantity.ts'
import type { GivenComponent } from '../schema/component.ts'
import { keyWords } from '../schema/key-words.ts'
import type { GivenOption } from '../schema/option.ts'
import type { Given } from '../schema/range.ts'
import type { Choice, Filling, Resolution } from './resolution.ts'

/** A component as the list of assumptions calls it: its kind, numbered where the option has several of one kind. */
export function componentLabel(option: Pick<GivenOption, 'components'>, place: number): string {
  const kind = option.components[place]?.kind ?? ''
  const alike = option.components
    .map((component, at) => ({ kind: component.kind, at }))
    .filter(one => one.kind === kind)
  const number = alike.findIndex(one => one.at === place) + 1
  return alike.length > 1 ? `${kind} ${number}` : kind
}

/** A key of a component that may be a range. */
export interface ComponentRange {
  /** From the component, e.g. `replacement.parts`. */
  readonly key: string
  /** Key of the figure and of the words, where it is not the key itself. */
  readonly figureKey?: string
  readonly scale: SpreadScale
  readonly given: Given | undefined
  /** What fills a gap; left out: the figure of the row. */
  readonly filling?: Filling | Choice
  readonly read: boolean
  readonly evidenceDrawn?: boolean
  /** Prefix of the unknown's name where populations of one model share it. */
  readonly sharedBy?: string | null
}

/** One component of one option, with what is needed to name its values and fill its gaps. */
export class ComponentPlace {
  readonly kind: ComponentKind
  readonly row: EvidenceRowKey
  readonly label: string

  constructor(
    readonly resolution: Resolution,
    readonly option: GivenOption,
    readonly place: number,
    readonly given: GivenComponent,
    /** Id of the option, for notes. */
    readonly optionId: string,
  ) {
    this.kind = given.kind
    this.row = evidenceRow(given.kind, given.tier)
    this.label = componentLabel(option, place)
  }

  /** Key of an assumption: option, component, key. */
  keyOf(key: string): string {
    return `${this.option.name} / ${this.label} / ${key}`
  }

  /** Name of an unknown filled from evidence: one a kind and key (U1b). */
  evidenceName(key: string): string {
    return `evidence ${this.kind} ${key.replaceAll('.', ' ')}`
  }

  /** A known value: given, else the figure of the row, else the choice. */
  value(key: string, given: number | undefined, choice?: Choice): number {
    const filling = given !== undefined ? UNUSED : (choice ?? { figure: figureOf(this.row, key) })
    return this.resolution.value({ key: this.keyOf(key), given, filling })
  }

  /** A value that may be a range. */
  quantity(asked: ComponentRange): Quantity {
    const figureKey = asked.figureKey ?? asked.key
    const filling = asked.given !== undefined ? UNUSED : (asked.filling ?? { figure: figureOf(this.row, figureKey) })
    const shared = asked.sharedBy ?? null
    const words = keyWords(figureKey)
    return this.resolution.quantity({
      key: this.keyOf(asked.key),
      given: asked.given,
      filling,
      scale: asked.scale,
      unknownName: `${shared ?? `${this.option.name} / ${this.place}`} / ${asked.key}`,
      evidenceName: this.evidenceName(figureKey),
      label: `${words} (${shared ?? `${this.option.name}, ${this.label}`})`,
      evidenceLabel: `${words} (${kindWords(this.kind, 2)}, evidence)`,
      read: asked.read,
      evidenceDrawn: asked.evidenceDrawn ?? true,
    })
  }

  /** Whether the evidence has a figure for a key of this component. */
  hasFigure(key: string): boolean {
    return findFigure(this.row, key) !== null
  }
}

// A placeholder where the user gave the value and nothing has to be filled.
const UNUSED: Choice = { choice: 0, remark: '' }
