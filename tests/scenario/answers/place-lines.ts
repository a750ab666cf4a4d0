/** The block that a line of a scenario is in. */
export type Place = 'root' | 'site' | 'array' | 'option' | 'component'

/** A line that a person writes, where, and what is answered. */
export interface Answered {
  readonly at: Place
  readonly line: string
  /** Lines of the scenario that are left out for it, by their key. */
  readonly without?: readonly { readonly at: Place; readonly key: string }[]
  /** Further lines of the scenario. */
  readonly with?: readonly { readonly at: Place; readonly line: string }[]
  /** The line in full once it is mended, where the message shows a part of it. */
  readonly mended?: string
  /** The message under the place. */
  readonly message: string
}

const LINES: Readonly<Record<Place, readonly string[]>> = {
  root: ['currency: EUR', 'prices_from_evidence: yes'],
  site: [
    'panels: 20',
    'generation: {annual_kwh: 6500}',
    'energy_value: {import_price_per_kwh: 0.3, export_price_per_kwh: 0.08}',
  ],
  array: ['panels: 20', 'panel_w: 330', 'tilt: 25', 'azimuth: south'],
  option: ['name: A', 'topology: string', 'upfront_cost: 6900', 'inverter_kw: 5'],
  component: ['kind: string-inverter', 'ac_kw: 5'],
}

/** A scenario that is right, with some lines put in and others of the same key left out. */
export function scenarioWith(
  lines: readonly { readonly at: Place; readonly line: string }[],
  without: readonly { readonly at: Place; readonly key: string }[] = [],
): string {
  const places = new Set(lines.map(({ at }) => at))
  const at = (place: Place, indent: string, first = indent): string => {
    const own = lines.filter(one => one.at === place).map(one => one.line)
    const gone = [...own.map(keyOf), ...without.filter(one => one.at === place).map(one => one.key)]
    const kept = LINES[place].filter(line => !gone.includes(keyOf(line)))
    return [...kept, ...own].map((line, index) => `${index === 0 ? first : indent}${line}\n`).join('')
  }
  const withArray = places.has('array')
  const withComponent = places.has('component')
  const site = withArray
    ? at('site', '  ').replace(
        / {2}generation: .*\n/,
        `  location: {latitude: 47, climate: temperate}\n  generation:\n    arrays:\n${at('array', '        ', '      - ').replace(/panels: 20\n/, withArray ? 'panels: 20\n' : '')}`,
      )
    : at('site', '  ')
  const option = withComponent
    ? `${at('option', '    ', '  - ').replace(/ {4}inverter_kw: .*\n/, '')}    components:\n${at('component', '        ', '      - ')}`
    : at('option', '    ', '  - ')
  const written = lines.some(one => one.at === 'root' && keyOf(one.line) === 'options')
  return `${at('root', '')}site:\n${site}${written ? '' : `options:\n${option}`}`
}

/** The key of a line. */
export function keyOf(line: string): string {
  return line.split(':', 1)[0] ?? ''
}

const PLACES: Readonly<Record<string, Place>> = {
  'at the left edge ': 'root',
  'under "site" ': 'site',
  'in the option ': 'option',
}

/** The line that a message says to write, and where; null: it says to leave the key out. */
export function lineToWrite(answered: Answered): { at: Place; line: string } | null {
  const { message, line, at } = answered
  const whole = /(at the left edge |under "site" |in the option )?write {2}(.*)$/.exec(message)
  if (whole !== null) {
    return { at: PLACES[whole[1] ?? ''] ?? at, line: whole[2] ?? '' }
  }
  const value = /write (\S+)$/.exec(message)?.[1]
  if (value !== undefined) return { at, line: `${keyOf(line)}: ${value}` }
  const key = /did you mean "(.*)"\?$/.exec(message)?.[1]
  if (key !== undefined) return { at, line: line.replace(keyOf(line), key) }
  return null
}
