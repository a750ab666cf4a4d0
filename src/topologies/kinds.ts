import type { EvidenceRowKey } from '../evidence/rows.ts'

/** What stops when a unit of a kind fails (O4, O5, O7): with a string, all its panels. */
export type OutageRole = 'inverter' | 'panel-level' | 'string' | 'nothing' | 'battery' | 'battery-inverter'

/** Classes of string inverters by price: each has a row of the evidence. */
export const TIERS = ['budget', 'plain', 'robust'] as const

/** One of the classes of string inverters. */
export type Tier = (typeof TIERS)[number]

/** The usual conversion curves (E3), by the kind of inverter to which they apply. */
export type CurveKey = 'string' | 'hybrid' | 'panel-level'

/** A kind of component: all that the program knows of it in addition to the figures of its evidence row. */
export interface Kind {
  /** As a sentence names one, with its article, and several. */
  readonly one: string
  readonly article: 'a' | 'an'
  readonly many: string
  /** Other words of the trade that a scenario may use; spelling, plural and hyphens do not matter. */
  readonly alsoCalled: readonly string[]
  /** What stops with a failed unit (O4, O7). */
  readonly role: OutageRole
  /**
   * Share of one unit in what its role stops (O4, O7): `rating` in proportion to `ac_kw` among all kinds of the role,
   * `count` alike among all units of the role, `panel` one panel of the site, `none` nothing of its own.
   */
  readonly carries: 'rating' | 'count' | 'panel' | 'none'
  /** Conversion curve of a kind that converts solar power to alternating current (E3); null: it does not. */
  readonly curve: CurveKey | null
  /** Whether it reports the failures of other units; its own is found after its `detect_days` (O2). */
  readonly monitors: boolean
  /** Whether a unit is reached over the roof, unless `on_roof` is given. */
  readonly onRoof: boolean
  /** Whether a person has to come when a unit fails, unless `needs_visit` is given (O3). */
  readonly needsVisit: boolean
  /** Topologies that it may join in addition to the kinds they name: all, those with strings, or none. */
  readonly joins: 'all' | 'strings' | 'none'
  /** Row of the evidence that fills it, by tier where it has tiers. */
  readonly row: EvidenceRowKey | Readonly<Record<Tier, EvidenceRowKey>>
}

/** Every kind of component by its word in a scenario: the one place to add another. */
export const KINDS = {
  'string-inverter': {
    one: 'string inverter',
    article: 'a',
    many: 'string inverters',
    alsoCalled: [],
    role: 'inverter',
    carries: 'rating',
    curve: 'string',
    monitors: false,
    onRoof: false,
    needsVisit: true,
    joins: 'none',
    row: { budget: 'string-inverter budget', plain: 'string-inverter plain', robust: 'string-inverter robust' },
  },
  'hybrid-inverter': {
    one: 'hybrid inverter',
    article: 'a',
    many: 'hybrid inverters',
    alsoCalled: ['hybrid'],
    role: 'inverter',
    carries: 'rating',
    curve: 'hybrid',
    monitors: false,
    onRoof: false,
    needsVisit: true,
    joins: 'none',
    row: 'hybrid-inverter',
  },
  'panel-level-unit': {
    one: 'panel-level unit',
    article: 'a',
    many: 'panel-level units',
    alsoCalled: ['panel-level inverter', 'micro-inverter', 'microinverter', 'module-level inverter'],
    role: 'panel-level',
    carries: 'count',
    curve: 'panel-level',
    monitors: false,
    onRoof: true,
    needsVisit: true,
    joins: 'none',
    row: 'panel-level-unit',
  },
  optimiser: {
    one: 'optimiser',
    article: 'an',
    many: 'optimisers',
    alsoCalled: ['DC optimiser', 'power optimiser', 'panel optimiser'],
    role: 'panel-level',
    carries: 'panel',
    curve: null,
    monitors: false,
    onRoof: true,
    needsVisit: true,
    joins: 'none',
    row: 'optimiser',
  },
  gateway: {
    one: 'gateway',
    article: 'a',
    many: 'gateways',
    alsoCalled: ['communication gateway', 'monitoring gateway', 'communication unit'],
    role: 'nothing',
    carries: 'none',
    curve: null,
    monitors: true,
    onRoof: false,
    needsVisit: false,
    joins: 'all',
    row: 'gateway',
  },
  battery: {
    one: 'battery',
    article: 'a',
    many: 'batteries',
    alsoCalled: ['home battery', 'battery storage', 'storage'],
    role: 'battery',
    carries: 'count',
    curve: null,
    monitors: false,
    onRoof: false,
    needsVisit: true,
    joins: 'all',
    row: 'battery',
  },
  'battery-inverter': {
    one: 'battery inverter',
    article: 'a',
    many: 'battery inverters',
    alsoCalled: ['storage inverter', 'battery charger'],
    role: 'battery-inverter',
    carries: 'count',
    curve: null,
    monitors: false,
    onRoof: false,
    needsVisit: true,
    joins: 'all',
    row: 'battery-inverter',
  },
  'dc-isolator': {
    one: 'DC isolator',
    article: 'a',
    many: 'DC isolators',
    alsoCalled: ['isolator', 'roof isolator', 'DC switch', 'DC disconnect'],
    role: 'string',
    carries: 'none',
    curve: null,
    monitors: false,
    onRoof: true,
    needsVisit: true,
    joins: 'strings',
    row: 'dc-isolator',
  },
} as const satisfies Record<string, Kind>

/** One of the kinds of component. */
export type ComponentKind = keyof typeof KINDS

/** The words of all kinds, in the order in which they are listed. */
export const COMPONENT_KINDS = Object.keys(KINDS) as [ComponentKind, ...ComponentKind[]] // keys of KINDS

/**
 * What the program knows of a kind.
 *
 * @param kind - its word in a scenario
 */
export function kindOf(kind: ComponentKind): Kind {
  return KINDS[kind]
}

/**
 * Whether a kind converts solar power to alternating current.
 *
 * @param kind - its word; undefined where it could not be read
 */
export function isSunInverter(kind: ComponentKind | undefined): kind is ComponentKind {
  return kind !== undefined && kindOf(kind).curve !== null
}

/**
 * Whether a kind is an inverter to which strings of panels are wired.
 *
 * @param kind - its word; undefined where it could not be read
 */
export function isCentralInverter(kind: ComponentKind | undefined): kind is ComponentKind {
  return kind !== undefined && kindOf(kind).role === 'inverter'
}

/**
 * Whether a kind is an inverter of its own behind a panel.
 *
 * @param kind - its word; undefined where it could not be read
 */
export function isPanelInverter(kind: ComponentKind | undefined): kind is ComponentKind {
  return isSunInverter(kind) && !isCentralInverter(kind)
}

/**
 * Whether a kind is a converter behind a panel of a string (E6).
 *
 * @param kind - its word; undefined where it could not be read
 */
export function isOptimiser(kind: ComponentKind | undefined): kind is ComponentKind {
  return kind !== undefined && kindOf(kind).carries === 'panel'
}

/**
 * Whether units of a kind are assigned to the strings in turn (O4).
 *
 * @param kind - its word
 */
export function hangsOnString(kind: ComponentKind): boolean {
  return isOptimiser(kind) || kindOf(kind).role === 'string'
}

/**
 * Kinds whose units carry parts of one whole, together (O4, O7).
 *
 * @returns groups of one role and one way of sharing
 */
export function sharingKinds(): readonly (readonly ComponentKind[])[] {
  const groups = new Map<string, ComponentKind[]>()
  for (const kind of COMPONENT_KINDS) {
    const { role, carries } = kindOf(kind)
    if (carries !== 'none') groups.set(`${role} ${carries}`, [...(groups.get(`${role} ${carries}`) ?? []), kind])
  }
  return [...groups.values()]
}

/**
 * Whether a kind has the tiers of string inverters.
 *
 * @param kind - its word
 */
export function hasTiers(kind: ComponentKind): boolean {
  return typeof kindOf(kind).row === 'object'
}

/**
 * The row of the evidence that fills a component.
 *
 * @param kind - its word
 * @param tier - of a kind with tiers; undefined: plain
 */
export function evidenceRow(kind: ComponentKind, tier: Tier | undefined): EvidenceRowKey {
  const { row } = kindOf(kind)
  return typeof row === 'object' ? row[tier ?? 'plain'] : row
}

/**
 * A kind as a sentence names it.
 *
 * @param kind - its word
 * @param count - how many: 1 gives the singular
 * @returns e.g. `panel-level units`
 */
export function kindWords(kind: ComponentKind, count: number): string {
  return count === 1 ? kindOf(kind).one : kindOf(kind).many
}

/**
 * One of a kind with its article.
 *
 * @param kind - its word
 * @returns e.g. `an optimiser`
 */
export function oneOfKind(kind: ComponentKind): string {
  return `${kindOf(kind).article} ${kindOf(kind).one}`
}
