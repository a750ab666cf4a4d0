/** How cover carries over to a replacement (W3): each word of `replacement_cover`, and what a report says for it. */
export const REPLACEMENT_COVERS = {
  remaining: 'the rest of the old term',
  renewed: 'a new term',
  'new-if-bought': 'the rest of the old term; a new one only for a unit you pay for',
} as const

/** A word of `replacement_cover`. */
export type ReplacementCover = keyof typeof REPLACEMENT_COVERS

/** The words, in the order in which messages list them. */
export const REPLACEMENT_COVER_WORDS = Object.keys(REPLACEMENT_COVERS) as [ReplacementCover, ...ReplacementCover[]] // keys of a literal: the type is exact
