import type { History, Starts } from '../history/history.ts'
import { ProviderExits } from '../history/provider-exits.ts'
import { CLAIM, NUMBERS, PLANNED, REPAIRED, type Rows } from '../history/rows.ts'
import { FIRST_ROOM } from '../numerics/first-room.ts'
import { claimGranted, claimMade, originalEnd, replacementEnd } from './cover.ts'
import type { CoverTerms, OptionTerms } from './terms.ts'

/** No parts cover at detection, or a planned replacement. */
export const NOT_CLAIMED = 0
/** Parts were claimed and the claim was refused. */
export const REFUSED = 1
/** Parts were claimed and the claim was granted. */
export const GRANTED = 2

/** What the cover decided for the rows of one population. The memory is reused. */
export class Claims {
  /** NOT_CLAIMED, REFUSED or GRANTED. */
  parts = new Uint8Array(FIRST_ROOM)
  /** 1 if labour cover runs at detection and its provider exists. */
  labour = new Uint8Array(FIRST_ROOM)
  /** 1 if the parts term runs at detection, whether or not its provider still exists (V3). */
  paper = new Uint8Array(FIRST_ROOM)
  /** Ends of parts cover and of labour cover of the unit in service after the row, years. */
  partsEnd = new Float64Array(FIRST_ROOM)
  labourEnd = new Float64Array(FIRST_ROOM)

  /** Reserves memory for a number of rows; earlier content is lost. */
  reserve(rows: number): void {
    if (rows <= this.parts.length) return
    const length = 2 * rows
    this.parts = new Uint8Array(length)
    this.labour = new Uint8Array(length)
    this.paper = new Uint8Array(length)
    this.partsEnd = new Float64Array(length)
    this.labourEnd = new Float64Array(length)
  }
}

/** Exits of the providers behind parts and labour cover, by lane (W5). */
export interface Exits {
  readonly partsExits: ProviderExits
  readonly labourExits: ProviderExits
}

const never = new ProviderExits()

/**
 * Providers that never leave (V3).
 *
 * @param lanes - number of lifetimes
 */
export function stayingProviders(lanes: number): Exits {
  never.begin(lanes)
  return { partsExits: never, labourExits: never }
}

/**
 * Decides every claim of a history (W1–W5): at detection, by the clocks of the unit and the providers that still exist.
 * The first stage of the ledger.
 *
 * @param history - the lifetimes
 * @param terms - of the option
 * @param claims - by population; filled, one entry a row
 */
export function decideClaims(history: History, terms: OptionTerms, claims: readonly Claims[]): void {
  terms.units.forEach((unit, place) => {
    const own = claims[place]
    if (own !== undefined) decidePopulation(history, place, unit.cover, history, own)
  })
}

/**
 * Decides the claims of one population under a cover (W1–W5).
 *
 * @param history - the lifetimes
 * @param place - of the population
 * @param cover - its terms
 * @param exits - of its providers
 * @param claims - filled, one entry a row
 */
export function decidePopulation(
  history: History,
  place: number,
  cover: CoverTerms,
  exits: Exits,
  claims: Claims,
): void {
  const rows = history.rows[place]
  const starts = history.starts[place]
  if (rows === undefined || starts === undefined) return
  claims.reserve(rows.n)
  decideRows(rows, starts, cover, exits, claims)
}

/** As `decideClaim`, with what does not change from row to row passed in. */
function decideRows(rows: Rows, starts: Starts, cover: CoverTerms, exits: Exits, claims: Claims): void {
  const { n, lane: laneOf, before, action, detectedAt, fittedAt, returnedAt, numbers } = rows
  const { parts, labour, paper, partsEnd, labourEnd } = claims
  const { ageYears } = starts
  const { years, labourYears } = cover
  const { partsExits, labourExits } = exits
  for (let row = 0; row < n; row++) {
    const lane = laneOf[row] as number // the row is there, as are its lane and the row before
    const earlier = before[row] as number
    const age = ageYears[lane] as number
    const firstParts = originalEnd(years, age)
    const firstLabour = originalEnd(labourYears, age)
    const partsUntil = earlier < 0 ? firstParts : (partsEnd[earlier] as number)
    const labourUntil = earlier < 0 ? firstLabour : (labourEnd[earlier] as number)
    const at = detectedAt[row] as number
    const fitted = fittedAt[row] as number
    const done = action[row] as number
    const onPaper = done !== PLANNED && at < partsUntil
    const claimed = onPaper && claimMade(at, partsUntil, partsExits, lane, fitted)
    const granted = claimed && claimGranted(cover, numbers[NUMBERS * row + CLAIM] as number)
    const covered = done !== PLANNED && claimMade(at, labourUntil, labourExits, lane, fitted)
    paper[row] = onPaper ? 1 : 0
    parts[row] = granted ? GRANTED : claimed ? REFUSED : NOT_CLAIMED
    labour[row] = covered ? 1 : 0
    if (done === REPAIRED) {
      partsEnd[row] = partsUntil
      labourEnd[row] = labourUntil
      continue
    }
    const back = returnedAt[row] as number
    partsEnd[row] = replacementEnd(cover, years, firstParts, partsUntil, back, !granted)
    labourEnd[row] = replacementEnd(cover, labourYears, firstLabour, labourUntil, back, !granted)
  }
}

/**
 * Decides the claim of one row (W1–W5).
 *
 * @param rows - of the population
 * @param row - which row
 * @param before - earlier row of its slot, decided; or −1
 * @param ageYears - of the original unit at the start
 * @param cover - its terms
 * @param exits - of its providers
 * @param claims - its entry is filled; its memory is reserved by `reserve`
 */
export function decideClaim(
  rows: Rows,
  row: number,
  before: number,
  ageYears: number,
  cover: CoverTerms,
  exits: Exits,
  claims: Claims,
): void {
  const firstParts = originalEnd(cover.years, ageYears)
  const firstLabour = originalEnd(cover.labourYears, ageYears)
  const partsEnd = before < 0 ? firstParts : (claims.partsEnd[before] as number) // decided
  const labourEnd = before < 0 ? firstLabour : (claims.labourEnd[before] as number)
  const action = rows.action[row] as number // the row is there
  const lane = rows.lane[row] as number
  const planned = action === PLANNED
  const at = rows.detectedAt[row] as number
  const fittedAt = rows.fittedAt[row] as number
  const paper = !planned && at < partsEnd
  const claimed = paper && claimMade(at, partsEnd, exits.partsExits, lane, fittedAt)
  const granted = claimed && claimGranted(cover, rows.numbers[NUMBERS * row + CLAIM] as number)
  claims.paper[row] = paper ? 1 : 0
  claims.parts[row] = granted ? GRANTED : claimed ? REFUSED : NOT_CLAIMED
  claims.labour[row] = !planned && claimMade(at, labourEnd, exits.labourExits, lane, fittedAt) ? 1 : 0
  if (action === REPAIRED) {
    claims.partsEnd[row] = partsEnd
    claims.labourEnd[row] = labourEnd
    return
  }
  const returnedAt = rows.returnedAt[row] as number
  claims.partsEnd[row] = replacementEnd(cover, cover.years, firstParts, partsEnd, returnedAt, !granted)
  claims.labourEnd[row] = replacementEnd(cover, cover.labourYears, firstLabour, labourEnd, returnedAt, !granted)
}
