/**
 * The layer check: a folder of src/ imports only from those above it in the list, each library is imported where
 * LIBRARIES allows, only the rim touches files, and no file is too long. `npm run check:layers`.
 */

import { readdirSync, readFileSync } from 'node:fs'
import { cruise, type ICruiseResult, type IFlattenedRuleSet } from 'dependency-cruiser'

/** From the bottom up: each may import from itself and from those before it. */
const LAYERS = [
  ['plain-text.ts', 'errors.ts', 'units.ts'],
  ['numerics'],
  ['evidence'],
  ['topologies'],
  ['input'],
  ['scenario'],
  ['energy'],
  ['history'],
  ['ledger'],
  ['simulation'],
  ['analysis'],
  ['fitting'],
  ['fleet'],
  ['report'],
  ['cli'],
]

/** Narrower than the order: a folder that may reach only these. */
const ONLY: Readonly<Record<string, readonly string[]>> = {
  history: ['numerics', 'units.ts', 'errors.ts', 'scenario'],
  fitting: ['numerics', 'input', 'units.ts', 'errors.ts', 'plain-text.ts'],
}

/** Library -> where in src/ it may be imported, as a regular expression. */
const LIBRARIES: Readonly<Record<string, string>> = {
  '@clack/prompts': '^src/cli/ask/',
  'cli-progress': '^src/cli/terminal/progress',
  commander: '^src/cli/',
  open: '^src/cli/terminal/show-page',
  'csv-parse': '^src/(input|fleet)/',
  'csv-stringify': '^src/(report|fleet)/',
  'd3-scale': '^src/report/charts/',
  'd3-shape': '^src/report/charts/',
  eta: '^src/report/render',
  'fastest-levenshtein': '^src/input/',
  fflate: '^src/report/fleet/write-workbook',
  jstat: '^src/numerics/special',
  piscina: '^src/simulation/thread-pool',
  'simple-statistics': '^src/numerics/special',
  'write-excel-file': '^src/report/fleet/write-workbook',
  yaml: '^src/input/yaml',
  zod: '^src/(scenario|fleet)/',
}

/** Files and folders that may touch the disk. */
const RIM = '^src/(cli/|input/|fleet/|simulation/|report/((estimate|sheet|fit|fleet)/)?(render|write-))'

/** Most lines of a file, comments included: more is more than one idea. */
const MOST_LINES = 300

const folder = (name: string) => `^src/${name.replace('.', '\\.')}${name.includes('.') ? '$' : '/'}`
const anyOf = (names: readonly string[]) => names.map(folder).join('|')

const upward = LAYERS.slice(0, -1).map((layer, i) => ({
  name: `${layer.join('+')} imports only from above it in the list`,
  severity: 'error' as const,
  from: { path: anyOf(layer) },
  to: { path: anyOf(LAYERS.slice(i + 1).flat()) },
}))

const narrow = Object.entries(ONLY).map(([name, allowed]) => ({
  name: `${name} imports only from ${allowed.join(', ')}`,
  severity: 'error' as const,
  from: { path: folder(name) },
  to: { path: '^src/', pathNot: `${anyOf(allowed)}|${folder(name)}` },
}))

const libraries = Object.entries(LIBRARIES).map(([library, place]) => ({
  name: `${library} is imported in ${place}`,
  severity: 'error' as const,
  from: { path: '^src/', pathNot: place },
  to: { path: `(^|/)node_modules/${library}/` },
}))

const ruleSet: IFlattenedRuleSet = {
  forbidden: [
    ...upward,
    ...narrow,
    ...libraries,
    {
      name: 'only the rim touches files',
      severity: 'error',
      from: { path: '^src/', pathNot: RIM },
      to: { dependencyTypes: ['core'], path: '^(node:)?fs' },
    },
    {
      name: 'no circles',
      severity: 'error',
      from: {},
      to: { circular: true },
    },
    { name: 'imports resolve', severity: 'error', from: {}, to: { couldNotResolve: true } },
    { name: 'src does not know its tests', severity: 'error', from: { path: '^src/' }, to: { path: '^tests/' } },
  ],
}

const result = await cruise(['src', 'tests'], {
  ruleSet,
  validate: true,
  tsPreCompilationDeps: true,
  doNotFollow: { path: 'node_modules' },
  enhancedResolveOptions: { exportsFields: ['exports'], conditionNames: ['import', 'node', 'default', 'types'] },
})
if (typeof result.output === 'string') throw new Error('the layer check gave text instead of modules')
process.exitCode = report(result.output)

/** Prints what broke; the number of faults, at most 1. */
function report({ modules, summary }: ICruiseResult): number {
  const seen = new Set(modules.map(module => module.source))
  const files = readdirSync('src', { recursive: true, encoding: 'utf8' }).map(
    name => `src/${name.replaceAll('\\', '/')}`,
  )
  const missed = files.filter(name => name.endsWith('.ts') && !name.endsWith('.d.ts') && !seen.has(name))
  const known = new Set(LAYERS.flat())
  const homeless = files.filter(name => name.endsWith('.ts') && !known.has(name.split('/')[1] ?? ''))
  const long = files.filter(name => name.endsWith('.ts') && linesOf(name) > MOST_LINES)
  for (const name of missed) console.error(`${name}: not seen by the layer check`)
  for (const name of homeless) console.error(`${name}: its folder has no place in the list of layers`)
  for (const name of long) console.error(`${name}: ${linesOf(name)} lines, at most ${MOST_LINES}: split it by idea`)
  for (const { rule, from, to } of summary.violations) console.error(`${from} -> ${to}: ${rule.name}`)
  const faults = missed.length + homeless.length + long.length + summary.violations.length
  console.log(`layers: ${files.filter(name => seen.has(name)).length} files of src seen, ${faults} faults`)
  return faults === 0 ? 0 : 1
}

function linesOf(file: string): number {
  return readFileSync(file, 'utf8').split('\n').length - 1
}
