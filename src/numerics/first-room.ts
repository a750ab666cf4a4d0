/**
 * Length of a column before it grows for the first time. Ours; small, so that it grows at once: the engine compiles a
 * field that never changed as a constant, and throws that code away when it does.
 */
export const FIRST_ROOM = 2
