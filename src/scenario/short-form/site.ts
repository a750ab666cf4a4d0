import type { KeyPath } from '../../input/problems.ts'
import { bearing } from './bearing.ts'
import { isTable, type Rewrite } from './rewrite.ts'

/** Where the arrays of a roof are. */
export const ARRAYS = ['site', 'generation', 'arrays'] as const
const PANEL_W = ['site', 'panel_w'] as const

/**
 * The words of the site: a compass word as azimuth, an array without a name, one panel rating for all arrays, a load of
 * hours.
 */
export function takeSiteWords(rewrite: Rewrite): void {
  takePanelRating(rewrite)
  const names = rewrite.list(ARRAYS).map(array => (isTable(array) ? array.name : undefined))
  rewrite.list(ARRAYS).forEach((array, index) => {
    if (!isTable(array)) return
    const path = [...ARRAYS, index]
    takeAzimuth(rewrite, path)
    takeName(rewrite, path, names)
    if (array.panel_w === undefined && rewrite.at(PANEL_W) !== undefined)
      rewrite.put([...path, 'panel_w'], rewrite.at(PANEL_W), PANEL_W)
  })
  takeHours(rewrite)
}

/** A panel rating that options state, as quotes do, is the site's: all options are for one roof. */
function takePanelRating(rewrite: Rewrite): void {
  const ratings = rewrite.list(['options']).flatMap((option, index) => {
    const rating = isTable(option) ? option.panel_w : undefined
    return rating === undefined || rating === null ? [] : [{ rating, path: ['options', index, 'panel_w'] }]
  })
  const [first] = ratings
  if (first === undefined || rewrite.table(['site']) === null) return
  const givenW = rewrite.at(PANEL_W) ?? first.rating
  for (const { rating, path } of ratings) {
    if (rating !== givenW)
      rewrite.flaws.push({
        path,
        message: `found ${rating} W and ${givenW} W; all options share the panels of the site: give each quote a scenario of its own, or one panel_w under "site"`,
      })
    rewrite.take(path, `panel_w: ${rating} of the site`)
  }
  if (rewrite.at(PANEL_W) === undefined) rewrite.put(PANEL_W, first.rating, first.path)
  for (const { path } of ratings) rewrite.drop(path)
}

function takeAzimuth(rewrite: Rewrite, path: KeyPath): void {
  const at = [...path, 'azimuth']
  const written = rewrite.at(at)
  const degrees = typeof written === 'string' ? bearing(written) : null
  if (degrees === null) return
  rewrite.take(at, `azimuth: ${degrees}, degrees clockwise from north`)
  rewrite.put(at, degrees, at)
}

/** An array without a name is named by the way it faces, or by its place in the list. */
function takeName(rewrite: Rewrite, path: KeyPath, names: unknown[]): void {
  const index = Number(path.at(-1))
  if (names[index] !== undefined && names[index] !== null) return
  const faces = rewrite.at([...path, 'azimuth'])
  const word = typeof faces === 'number' ? facing(faces) : `array ${index + 1}`
  const name = names.includes(word) ? `${word} ${index + 1}` : word
  names[index] = name
  rewrite.put([...path, 'name'], name, path)
}

/** The main point of the compass nearest to a bearing. */
function facing(degrees: number): string {
  const points = ['north', 'north-east', 'east', 'south-east', 'south', 'south-west', 'west', 'north-west']
  return points[Math.round((((degrees % 360) + 360) % 360) / 45) % 8] ?? 'array'
}

/** `load: {hourly_csv: FILE}`: the file is the shape of the load. */
function takeHours(rewrite: Rewrite): void {
  const load = rewrite.table(['site', 'load'])
  if (load?.hourly_csv === undefined || load.shape !== undefined) return
  rewrite.put(['site', 'load', 'shape'], {}, ['site', 'load', 'hourly_csv'])
  rewrite.move(['site', 'load', 'hourly_csv'], ['site', 'load', 'shape', 'hourly_csv'])
}
