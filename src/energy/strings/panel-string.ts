/** A string of panels, by the light that they get. */

/** Panels of one string that get the same light: how many, and which light (index into a list of suns). */
export interface StringPart {
  readonly light: number
  readonly count: number
  /** Whether each of them has an optimiser (E6). */
  readonly optimised: boolean
}

/** A string on a tracker input; `times` equal ones in parallel. */
export interface PanelString {
  readonly parts: readonly StringPart[]
  readonly times: number
}
