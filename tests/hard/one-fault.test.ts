import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { describe, expect, test } from 'vitest'
import { runEstimate } from '../../src/cli/commands/run-estimate.ts'
import { runFit } from '../../src/cli/commands/run-fit.ts'
import { runFleet } from '../../src/cli/commands/run-fleet.ts'
import { runJoin } from '../../src/cli/commands/run-join.ts'
import { DAYS_OF_MONTH } from '../../src/units.ts'
import { homeTemplate, siteTable } from '../fleet/fleets.ts'
import { PLAIN } from '../scenario/plain-scenario.ts'
import { type Fault, type Files, onItsLine, wrongEnd } from './one-fault.ts'

const estimate = (folder: string, out: string): Promise<void> =>
  runEstimate(`${folder}/roof.yaml`, { out, draws: '20', threads: '1', quiet: true })
const fleet = (folder: string, out: string): Promise<void> =>
  runFleet(`${folder}/fleet.yaml`, { out, draws: '20', threads: '1', quiet: true })
const fit = (folder: string, out: string): Promise<void> =>
  runFit(`${folder}/records.csv`, { out, ageUnit: 'years', seed: '1', quiet: true })
const join = (folder: string, out: string): Promise<void> => runJoin([`${folder}/parts`], { out, quiet: true })

/** Each line of a text once with every replacement of what it holds; the message must name the line. */
function faultsIn(
  run: Fault['run'],
  file: string,
  files: Files,
  edits: readonly (readonly [from: string, to: string, ...says: string[]])[],
): Fault[] {
  const text = files[file]
  if (typeof text !== 'string') throw new Error(`${file} is no text`)
  return edits.map(([from, to, ...says]) => {
    const fault = onItsLine(text, from, to, file)
    return {
      name: `${file}: ${from} -> ${to}`,
      run,
      files: { ...files, [file]: fault.text },
      says: [fault.place, ...says],
    }
  })
}

/** A key with a number, once with each kind of value that is none or out of bounds. */
const wrongNumbers = (key: string, value: string, after = ''): [string, string, string][] =>
  ['many', '-1e12', '[1, 2, 3]', '{a: 1}', '1e12', '""'].map(wrong => [
    `${key}: ${value}${after}`,
    `${key}: ${wrong}${after}`,
    'found',
  ])

const misspelt = (key: string): [string, string, string] => [`${key}:`, `${key}zq:`, `"${key}zq"`]

const SCENARIO = faultsIn(estimate, 'roof.yaml', { 'roof.yaml': PLAIN }, [
  ...wrongNumbers('upfront_cost', '6900'),
  ...wrongNumbers('ac_kw', '5'),
  ...wrongNumbers('call_out', '140', ','),
  ...wrongNumbers('roof_access', '60', '}'),
  ...wrongNumbers('import_price_per_kwh', '0.3', ','),
  ...wrongNumbers('export_price_per_kwh', '0.08', '}'),
  ...wrongNumbers('parts', '900', ','),
  ...wrongNumbers('labour', '260', '}'),
  ...['site', 'generation', 'energy_value', 'visit', 'options', 'topology', 'upfront_cost', 'components'].map(misspelt),
  ...['kind', 'replacement', 'warranty'].map(misspelt),
  ['topology: string', 'topology: cord', '"cord"'],
  ['kind: string-inverter', 'kind: box', '"box"'],
  ['monthly_kwh: [250, 360,', 'monthly_kwh: [250,', 'twelve'],
  ['monthly_kwh: [250,', 'monthly_kwh: [-250,', 'found -250'],
  ['count: 20', 'count: 0', 'found 0'],
  ['count: 20', 'count: 2.5', 'found 2.5'],
  ['years: 10,', 'years: 101,', 'found 101'],
  ['labour_years: 2', 'labour_years: -2', 'found -2'],
  ['title: Plain', 'title: [a]', 'title'],
  ['title: Plain', 'title: "a\\eb"', 'title'],
  ['  panels: 20', '\tpanels: 20', 'tab'],
  ['- name: String', '- name: {a: b}', 'name'],
  ['options:', 'options: x', 'two colons'],
  ['upfront_cost: 9400', 'upfront_cost: 9400\n    upfront_cost: 9400', 'occurs twice'],
])

const FLEET_FILES = {
  'fleet.yaml': 'title: Test\ntemplate: home.yaml\nsites: sites.csv\n',
  'home.yaml': homeTemplate(),
  'sites.csv': siteTable(4),
}

const FLEETS = [
  ...faultsIn(fleet, 'fleet.yaml', FLEET_FILES, [
    ['title: Test', 'title: [a]', 'title'],
    misspelt('template'),
    misspelt('sites'),
    ['template: home.yaml', 'template: gone.yaml', 'no such file'],
    ['sites: sites.csv', 'sites: 5', 'found 5'],
    ['sites: sites.csv', 'sites: sites.csv\nsites: more.csv', 'occurs twice'],
    ['sites: sites.csv', 'sites: sites.csv\noption: Other', 'Other'],
  ]),
  ...faultsIn(fleet, 'home.yaml', FLEET_FILES, [
    ...wrongNumbers('upfront_cost', '0'),
    ['topology: string', 'topology: cord', '"cord"'],
    ['horizon_years: 15', 'horizon_years: 99', 'found 99'],
  ]),
  ...faultsIn(fleet, 'sites.csv', FLEET_FILES, [
    ['id,age_years', 'age_years,age_years', 'age_years'],
    ['id,age_years', ',age_years', 'no name'],
    ['id,age_years', 'id,__proto__', '__proto__'],
    ['s2,3', 's2,3,4,5', 'cells'],
    ['s3,4.5,', 's3,', 'cells'],
    ['s2,3', 's2"x,3', 'quotation'],
  ]),
  ...[
    ['empty', '', 'empty'],
    ['a header alone', 'id,age_years\n', 'sites'],
  ].map(
    ([name = '', text = '', ...says]): Fault => ({
      name: `sites.csv: ${name}`,
      run: fleet,
      files: { ...FLEET_FILES, 'sites.csv': text },
      says: ['sites.csv', ...says],
    }),
  ),
]

const ROWS = Array.from({ length: 30 }, (_, i) => `a,${1 + (i % 14)}.5,${i % 3 === 0 ? 'working' : 'failed'},1`)
const RECORDS = faultsIn(
  fit,
  'records.csv',
  { 'records.csv': ['model,end_age,outcome,count', ...ROWS, ''].join('\n') },
  [
    ...['x', '-1', '1e99', '', 'NaN', '0x10', '1,5', '2021-13-45', '5 years', '∞'].map((age): [string, string] => [
      'a,2.5,',
      `a,${age},`,
    ]),
    ...['broken', '', '?', 'failed;', 'yes'].map((outcome): [string, string, string] => [
      '3.5,failed',
      `3.5,${outcome}`,
      'outcome',
    ]),
    ...['0', '-1', '1.5', 'x', '1e99'].map((count): [string, string, string] => [
      '4.5,working,1',
      `4.5,working,${count}`,
      'count',
    ]),
    ['a,5.5', `${'g'.repeat(151)},5.5`, '151 characters'],
    ['a,6.5,', 'a,6.5,7.5,', 'fields'],
    ['model,end_age', 'model,model', 'model'],
    ['end_age', 'elapsed', 'end_age'],
    ['outcome', 'result_', 'outcome'],
  ],
)

const FIT = readFileSync('examples/service-records-fit.json', 'utf8')
const FIT_FILES = {
  'roof.yaml': PLAIN.replace('ac_kw: 5', 'ac_kw: 5\n        failure: {records: "fit.json#wall-a"}'),
}
const FITS: Fault[] = [
  ['"ageUnit": "years"', '"ageUnit": 7', 'ageUnit'],
  ['"ageUnit": "years"', '"ageUnit": null', 'ageUnit'],
  ['"groups": [', '"group": [', 'groups'],
  ['"groups": [', '"groups": {"a": [', 'JSON'],
  ['"name": "wall-a"', '"name": "wall-z"', 'wall-a'],
  ['"name": "wall-a"', '"name": 3', 'name'],
  ...['-5', '1.5', '"x"', 'null', '1e99', '[]'].flatMap(value => [
    ['"units": 569', `"units": ${value}`, 'groups.0.units'],
    ['"failed": 152', `"failed": ${value}`, 'groups.0.failed'],
  ]),
  ...['1e-30', '0', '-1', '"x"', 'null', '1e99', 'true'].flatMap(value => [
    ['"shape": 1.9193591408600763', `"shape": ${value}`, 'shape'],
    ['"characteristicLife": 15.347520566891257', `"characteristicLife": ${value}`, 'characteristicLife'],
  ]),
  ...['0', '2', '-1', '"x"'].map(value => ['"susceptible": 1', `"susceptible": ${value}`, 'susceptible']),
  ['"best": "weibull+early"', '"best": "none"', 'could not be fitted'],
  ['"best": "weibull+early"', '"best": 4', 'best'],
].map(([from = '', to = '', words = '']) => {
  if (!FIT.includes(from)) throw new Error(`fit.json does not hold: ${from}`)
  return {
    name: `fit.json: ${from} -> ${to}`,
    run: estimate,
    files: { ...FIT_FILES, 'fit.json': FIT.replace(from, to) },
    says: ['roof.yaml:14:', 'fit.json', words],
  }
})

const HOURS = DAYS_OF_MONTH.flatMap((days, month) =>
  Array.from({ length: days * 24 }, (_, hour) => [month + 1, Math.floor(hour / 24) + 1, (hour % 24) + 1] as const),
)
const EPW = [
  'LOCATION,Somewhere,-,-,made up,0,47.2,8.5,1,400',
  ...['D', 'T', 'G', 'H', 'C', 'C', 'P'],
  ...HOURS.map(([month, day, hour]) => `1999,${month},${day},${hour},0,?9,8.5,2,80,99900,0,0,300,120,60,80,0`),
  '',
].join('\n')
const ROOF = PLAIN.replace(
  /generation: \{.*\}/,
  'generation: {arrays: [{name: south, panels: 20, panel_w: 400, azimuth: 180, tilt: 30}]}\n  location: {latitude: 47.2, hourly_csv: light.epw}',
)
const WEATHER = faultsIn(estimate, 'light.epw', { 'roof.yaml': ROOF, 'light.epw': EPW }, [
  ['47.2', '97.2', 'latitude'],
  ['47.2', 'north', 'latitude'],
  [',8.5,1,', ',985,1,', 'longitude'],
  [',8.5,1,', ',8.5,99,', 'universal time'],
  ['1999,1,1,2,', '1999,1,1,3,', 'due'],
  ['1999,7,5,6,', '1999,7,5,7,', 'due'],
  ...['99.9', '-91', '71', 'x', ''].map((air): [string, string, string] => [
    '1999,3,4,5,0,?9,8.5,',
    `1999,3,4,5,0,?9,${air},`,
    'air temperature',
  ]),
  ...['9999', '-1', '1501', 'x', ''].map((light): [string, string, string] => [
    '1999,3,4,5,0,?9,8.5,2,80,99900,0,0,300,120,',
    `1999,3,4,5,0,?9,8.5,2,80,99900,0,0,300,${light},`,
    'global horizontal irradiance',
  ]),
])

const USE = ['kwh', ...HOURS.map(([, , hour]) => `0.${hour}`), ''].join('\n')
const LOADS = faultsIn(
  estimate,
  'use.csv',
  {
    'roof.yaml': PLAIN.replace(/generation: \{.*\}/, 'generation: {hourly_csv: use.csv}'),
    'use.csv': USE,
  },
  [
    ['kwh', 'watts', 'kWh'],
    ['0.7', 'x', 'found "x"'],
    ['0.8', 'zero', 'found "zero"'],
    ['0.9', '0,9', 'cells'],
    ['0.4', '4 kWh', 'found "4 kWh"'],
    ['0.3', '=1+1', 'found "=1+1"'],
    ['0.2', '∞', 'found "∞"'],
    ['0.6', '1e99', 'found "1e99"'],
    ['0.5', '0.5,1', 'cells'],
  ],
)

/** Both parts of a fleet, played here. */
async function playedParts(): Promise<Record<string, Uint8Array>> {
  const folder = mkdtempSync(`${tmpdir()}/lifetally-parts-`)
  try {
    for (const [name, text] of Object.entries(FLEET_FILES)) writeFileSync(`${folder}/${name}`, text)
    for (const part of ['1/2', '2/2'])
      await runFleet(`${folder}/fleet.yaml`, { out: `${folder}/parts`, part, draws: '20', threads: '1', quiet: true })
    const names = readdirSync(`${folder}/parts`).filter(name => !name.startsWith('.'))
    return Object.fromEntries(names.map(name => [`parts/${name}`, readFileSync(`${folder}/parts/${name}`)]))
  } finally {
    rmSync(folder, { recursive: true })
  }
}

const PARTS = await playedParts()
const ONE = 'parts/part-1-of-2.part'

/** The parts, of which one has been changed. */
const withPart = (name: string, change: (bytes: Uint8Array) => Uint8Array, ...says: string[]): Fault => ({
  name: `part: ${name}`,
  run: join,
  files: { ...PARTS, [ONE]: change(PARTS[ONE] ?? new Uint8Array()) },
  says: ['part-1-of-2', ...says],
})

/** One bit turned over, at a share of the file. */
const turned = (share: number) => (bytes: Uint8Array) => {
  const copy = Uint8Array.from(bytes)
  const at = Math.floor(share * (bytes.length - 1))
  copy[at] = (copy[at] ?? 0) ^ 1
  return copy
}

const JOINS: Fault[] = [
  ...[0.001, 0.02, 0.1, 0.3, 0.5, 0.7, 0.9, 1].map(share => withPart(`a bit turned at ${share}`, turned(share))),
  ...[0, 1, 10, 100].map(length => withPart(`cut to ${length} bytes`, bytes => bytes.slice(0, length))),
  withPart('cut at its end', bytes => bytes.slice(0, -1)),
  withPart('a byte more', bytes => Uint8Array.from([...bytes, 0])),
  withPart('a text', () => new TextEncoder().encode('{}')),
  withPart('its other part', () => PARTS['parts/part-2-of-2.part'] ?? new Uint8Array()),
  {
    name: 'part: one is missing',
    run: join,
    files: Object.fromEntries(Object.entries(PARTS).filter(([name]) => !name.includes('part-1'))),
    says: ['missing: 1'],
  },
]

const CASES = [...JOINS, ...SCENARIO, ...FLEETS, ...RECORDS, ...FITS, ...WEATHER, ...LOADS]

describe('a file with one fault ends in a message with its place, and leaves nothing', () => {
  test(`there are at least 200 of them`, () => expect(CASES.length).toBeGreaterThanOrEqual(200))

  test.each(CASES)('$name', async fault => {
    expect(await wrongEnd(fault)).toBe('')
  })
})
