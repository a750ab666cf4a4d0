/** The sixteen points of the compass, clockwise from north, each 22.5 degrees on. */
const POINTS: readonly (readonly [letters: string, words: string])[] = [
  ['n', 'north'],
  ['nne', 'north-north-east'],
  ['ne', 'north-east'],
  ['ene', 'east-north-east'],
  ['e', 'east'],
  ['ese', 'east-south-east'],
  ['se', 'south-east'],
  ['sse', 'south-south-east'],
  ['s', 'south'],
  ['ssw', 'south-south-west'],
  ['sw', 'south-west'],
  ['wsw', 'west-south-west'],
  ['w', 'west'],
  ['wnw', 'west-north-west'],
  ['nw', 'north-west'],
  ['nnw', 'north-north-west'],
]

/** The words of the compass, as an editor may offer them. */
export const COMPASS_WORDS: readonly string[] = POINTS.map(([, words]) => words)

/**
 * The bearing of a compass word.
 *
 * @param word - e.g. north-west, North West, northwest, NW
 * @returns degrees clockwise from north, [0, 360); null where it is no such word
 * @example bearing('north-west') // 315
 */
export function bearing(word: string): number | null {
  const plain = word.toLowerCase().replace(/[\s_-]|(facing|wards?|ern)$/g, '')
  const at = POINTS.findIndex(([letters, words]) => plain === letters || plain === words.replaceAll('-', ''))
  return at < 0 ? null : at * 22.5
}
