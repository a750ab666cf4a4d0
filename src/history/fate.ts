/**
 * The random numbers of one failure: always all drawn and in this order, so that no rule moves another's (K1). They lie
 * in one column, which the stream of the slot fills.
 */
export const FATE = {
  claim: 0,
  detect: 1,
  respond: 2,
  repair: 3,
  mode: 4,
  string: 5,
  /** Unit exponential of the next life. */
  exponential: 6,
} as const

/** Uniform numbers of a fate, before its exponential. */
export const FATE_UNIFORMS = FATE.exponential

/** Room for one fate. */
export function emptyFate(): Float64Array {
  return new Float64Array(FATE_UNIFORMS + 1)
}
