import type { OwnerLife, OwnerLives } from './life-list.ts'
import type { RegisterPlace } from './places.ts'
import { comparedName, type Undated } from './read-register.ts'

/** A unit that is in service when the watch ends: what a table of sites says of it. */
export interface UnitInService {
  /** Name of the place, or of the unit where names are those of units. */
  readonly id: string
  readonly group: string
  /** Units in the place. */
  readonly count: number
  /** Days since 1970-01-01; null: the register does not say. */
  readonly since: number | null
}

/**
 * The units in service at the end of the watch, the successors of those that failed among them: what a fleet is planned
 * for. A unit that failed and is not yet replaced counts as new.
 *
 * @param places - with their units
 * @param lives - in order of place and time
 * @param undated - rows of the register without a day of installation
 * @param watchEnds - days since 1970-01-01
 * @param unitsAre - places are filled again after a failure; units are not
 * @returns one a place, in the order of the register
 */
export function unitsInService(
  places: readonly RegisterPlace[],
  lives: OwnerLives,
  undated: readonly Undated[],
  watchEnds: number,
  unitsAre: 'places' | 'serials',
): UnitInService[] {
  // lives come in the order of the places: no table of names is needed
  const walk = lives[Symbol.iterator]()
  let next = walk.next()
  let grouped = false
  const found = places.flatMap(({ name, units }): UnitInService[] => {
    let life: OwnerLife | undefined
    for (; next.done !== true && next.value.place === name; next = walk.next()) life = next.value
    if (life !== undefined && life.group !== '') grouped = true
    if (life === undefined || (units.at(-1)?.retired ?? Infinity) <= watchEnds) return []
    const { group } = life
    const last = units.findLast(unit => unit.inService <= watchEnds)
    // of several units most are the first ones
    if (last !== undefined && last.count > 1) return [{ id: name, group, count: last.count, since: last.inService }]
    if (!life.failed) return life.to < watchEnds ? [] : [{ id: name, group, count: 1, since: life.from }]
    return unitsAre === 'places' ? [{ id: name, group, count: 1, since: watchEnds }] : []
  })
  if (undated.length === 0) return found
  const named = new Set(found.map(({ id }) => comparedName(id)))
  const further = undated.filter(({ place, group }) => {
    const known = named.has(comparedName(place)) || (grouped && group === '')
    named.add(comparedName(place))
    return !known
  })
  return [...found, ...further.map(({ place, group, count }) => ({ id: place, group, count, since: null }))]
}
