/**
 * Who pays for a failure: one function a rule (W1–W5). Clocks are moments in years after the start.
 */
import type { ProviderExits } from '../history/provider-exits.ts'
import type { CoverTerms } from './terms.ts'

/**
 * End of a cover clock of an original unit (W2): its term − its age.
 *
 * @param termYears - `years` or `labourYears` of its cover
 * @param ageYears - age at the start
 * @returns moment, years; may be negative
 */
export function originalEnd(termYears: number, ageYears: number): number {
  return termYears - ageYears
}

/**
 * Whether a provider still exists for a unit at a moment (W5): it is gone from the first exit after the unit was
 * fitted.
 *
 * @param exits - of the provider
 * @param lane - the lifetime
 * @param fittedAt - when the unit was fitted, years; 0 for original units
 * @param at - moment of the claim, years
 */
export function providerExists(exits: ProviderExits, lane: number, fittedAt: number, at: number): boolean {
  const { first, at: moments } = exits
  for (let i = first[lane] as number; i < moments.length; i++) {
    const exit = moments[i] as number // after the last of a lifetime it is Infinity
    if (exit > fittedAt) return exit > at
  }
  return true
}

/**
 * Whether a claim is made (W1): at detection the cover still runs and its provider still exists.
 *
 * @param detectedAt - moment of detection, years
 * @param end - of the cover clock of the unit, years
 * @param exits - of the provider behind the cover
 * @param lane - the lifetime
 * @param fittedAt - when the unit was fitted, years
 */
export function claimMade(
  detectedAt: number,
  end: number,
  exits: ProviderExits,
  lane: number,
  fittedAt: number,
): boolean {
  return detectedAt < end && providerExists(exits, lane, fittedAt, detectedAt)
}

/**
 * Whether a claim that was made is granted (W4).
 *
 * @param cover - terms of the unit
 * @param uniform - number of the failure for its claim, (0, 1)
 */
export function claimGranted(cover: CoverTerms, uniform: number): boolean {
  return uniform < cover.claimSuccess
}

/**
 * What the owner pays of the parts of a failure (W4).
 *
 * @param cover - terms of the unit
 * @param parts - price of the parts
 * @param granted - a claim for them succeeded
 */
export function ownersParts(cover: CoverTerms, parts: number, granted: boolean): number {
  return granted ? parts * (1 - cover.partsShare) : parts
}

/**
 * What the owner pays of the labour of a failure (W4).
 *
 * @param cover - terms of the unit
 * @param labour - price of the labour
 * @param covered - labour cover runs and its provider exists
 */
export function ownersLabour(cover: CoverTerms, labour: number, covered: boolean): number {
  return covered ? labour * (1 - cover.labourShare) : labour
}

/**
 * Whether a unit's cover pays for call-out and access of its visit (W4); they are free if this holds for all units of
 * it.
 *
 * @param cover - terms of the unit
 * @param labourCovered - labour cover runs and its provider exists
 */
export function letsVisitBeFree(cover: CoverTerms, labourCovered: boolean): boolean {
  return labourCovered && cover.visitsCovered
}

/**
 * Whether a unit's cover pays for all of its visit (O3, W4): call-out, access and all of its labour. The owner pays
 * nothing for a visit if this holds for all its units.
 *
 * @param cover - terms of the unit
 * @param labourCovered - labour cover runs and its provider exists
 */
export function coversWholeVisit(cover: CoverTerms, labourCovered: boolean): boolean {
  return letsVisitBeFree(cover, labourCovered) && cover.labourShare >= 1
}

/**
 * End of a cover clock for the unit that a replacement puts in (W3).
 *
 * @param terms - the component's terms
 * @param termYears - full term of this clock: `years` or `labourYears`
 * @param originalEnd - end of this clock for the original unit of the slot
 * @param runningEnd - end of this clock for the unit replaced
 * @param fittedAt - return to service of the replacement, years
 * @param bought - the owner paid for the unit: no claim succeeded, or it was replaced as planned
 * @returns moment, years
 */
export function replacementEnd(
  terms: CoverTerms,
  termYears: number,
  originalEnd: number,
  runningEnd: number,
  fittedAt: number,
  bought: boolean,
): number {
  switch (terms.replacementCover) {
    case 'remaining':
      // a bought unit keeps the original end too, so it has no cover once that is past
      return bought || termYears === 0 ? originalEnd : Math.max(originalEnd, fittedAt + terms.replacementMinYears)
    case 'renewed':
      return fittedAt + termYears
    case 'new-if-bought':
      return bought ? fittedAt + termYears : runningEnd
    default:
      return terms.replacementCover satisfies never
  }
}
