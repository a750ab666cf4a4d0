import { show } from '../../input/problems.ts'
import { comparedName, type Listed, type Register } from './read-register.ts'

/** A place with the units that the register lists for it, in order of installation. */
export interface RegisterPlace {
  readonly name: string
  readonly units: readonly Listed[]
}

/** What a name in a ticket means: a place, or one unit in it. */
export interface Target {
  readonly place: number
  /** Index of the unit in the place; −1: the place, whichever unit is in it. */
  readonly unit: number
}

/** The register by place. */
export interface Places {
  readonly places: readonly RegisterPlace[]
  readonly targets: readonly Target[]
  /** Number of the target of each plain name. */
  readonly names: ReadonlyMap<string, number>
  /** Rows that repeat another one. */
  readonly nRepeated: number
}

/**
 * Puts the rows of a register into their places. Rows of one unit whose days of installation lie within a gap are one row
 * written twice; rows of one place that overlap in time cannot both be true and count as bad.
 *
 * @param register - as read; its bad rows may grow
 * @param gapDays - `--same-outage`
 */
export function registerPlaces(register: Register, gapDays: number): Places {
  const byPlace = new Map<string, Listed[]>()
  for (const row of register.rows) {
    const name = comparedName(row.place)
    const own = byPlace.get(name)
    if (own === undefined) byPlace.set(name, [row])
    else own.push(row)
  }
  const places: RegisterPlace[] = []
  const targets: Target[] = []
  const names = new Map<string, number>()
  const serials: [name: string, target: Target][] = []
  let nRepeated = 0
  for (const [name, rows] of byPlace) {
    const units: Listed[] = []
    for (const row of rows.sort((a, b) => a.inService - b.inService || a.line - b.line)) {
      const before = units.at(-1)
      if (before !== undefined && before.serial === row.serial && row.inService - before.inService <= gapDays) {
        nRepeated++
        units[units.length - 1] = { ...before, retired: Math.min(before.retired, row.retired) }
      } else if (before !== undefined && overlap(before, row, gapDays)) {
        register.bad.add(row.line, 'unit', overlapText(before, row))
      } else units.push(row)
    }
    names.set(name, targets.length)
    targets.push({ place: places.length, unit: -1 })
    units.forEach((unit, index) => {
      if (unit.serial !== '') serials.push([comparedName(unit.serial), { place: places.length, unit: index }])
    })
    places.push({ name: units[0]?.place ?? name, units })
  }
  for (const [name, target] of serials) {
    names.set(name, targets.length)
    targets.push(target)
  }
  return { places, targets, names, nRepeated }
}

/** Whether two units are said to be in one place at once. */
function overlap(before: Listed, row: Listed, gapDays: number): boolean {
  const ends = before.retired === Infinity ? before.inService : before.retired
  return row.inService === before.inService || ends > row.inService + gapDays
}

function overlapText(before: Listed, row: Listed): string {
  return `${show(row.place)} would hold two units at once, this one and that of line ${before.line}; a place holds one unit at a time. If the column names a site, leave it out with --column register.place=- and let unit name each unit`
}
