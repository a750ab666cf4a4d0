import fc from 'fast-check'
import { type Block, put } from '../worlds.ts'
import { type EdgeKey, PLAIN, PLAIN_KEYS, type Place } from './edge-keys.ts'
import { HOURS, HOURS_KEYS, ROOF, ROOF_KEYS } from './edge-roof-keys.ts'

/** One key at an edge of what it allows, by itself valid in its base. */
export interface Edge {
  /** The key and its value, in words of the file. */
  readonly told: string
  readonly put: (scenario: Block) => Block
}

/** A valid scenario and every edge of every key that may be changed in it. */
interface EdgeWorld {
  readonly base: Block
  readonly edges: readonly Edge[]
}

/** Months of energy; panels hour by hour; a file of hours; and the share of cases of each. */
export const WORLDS: readonly (EdgeWorld & { readonly weight: number })[] = [
  { weight: 6, base: PLAIN, edges: edgesOf(PLAIN, PLAIN_KEYS) },
  { weight: 2, base: ROOF, edges: edgesOf(ROOF, ROOF_KEYS) },
  { weight: 1, base: HOURS, edges: edgesOf(HOURS, HOURS_KEYS) },
]

/** A world, with one, two, or four to nine of its edges together, each key at most once. */
export const anyEdges: fc.Arbitrary<{ readonly base: Block; readonly edges: readonly Edge[] }> = fc.oneof(
  ...WORLDS.map(({ weight, base, edges }) => ({
    weight,
    arbitrary: someOf(edges).map(some => ({ base, edges: some })),
  })),
)

function someOf(edges: readonly Edge[]): fc.Arbitrary<readonly Edge[]> {
  const of = (minLength: number, maxLength: number) =>
    fc.uniqueArray(fc.constantFrom(...edges), { minLength, maxLength, selector: keyOf })
  return fc.oneof(
    { weight: 1, arbitrary: of(1, 1) },
    { weight: 2, arbitrary: of(2, 2) },
    { weight: 3, arbitrary: of(4, 9) },
  )
}

/** The scenario with all of them. */
export function withEdges(base: Block, edges: readonly Edge[]): Block {
  return edges.reduce((scenario, one) => one.put(scenario), base)
}

function keyOf({ told }: Edge): string {
  return told.split(' = ')[0] ?? told
}

type Steps = readonly (string | number)[]

/** Every edge of every key, in each place that has it. */
function edgesOf(base: Block, keys: readonly EdgeKey[]): Edge[] {
  return keys.flatMap(([place, path, values]) =>
    values.flatMap(value => placesOf(place, base).map(at => edge([...at, ...stepsOf(path)], value))),
  )
}

function placesOf(place: Place, { options }: Block): readonly Steps[] {
  if (place === 'scenario') return [[]]
  const all = (options as readonly unknown[]).map((_, option) => ['options', option]) // of a base
  return place === 'option' ? all : all.map(option => [...option, 'components', 0])
}

function stepsOf(path: string): Steps {
  return path.split('.').map(step => (/^\d+$/.test(step) ? Number(step) : step))
}

function edge(path: Steps, value: unknown): Edge {
  return { told: `${path.join('.')} = ${JSON.stringify(value)}`, put: scenario => set(scenario, path, value) }
}

/** A copy with a value at a place. */
function set(into: Block, path: Steps, value: unknown): Block {
  const [step, ...rest] = path
  if (step === undefined) return into
  const before: unknown = into[step]
  if (rest.length === 0) return { ...into, [step]: value }
  if (Array.isArray(before))
    return { ...into, [step]: before.map((item: Block, i) => (i === rest[0] ? set(item, rest.slice(1), value) : item)) }
  return { ...into, [step]: set((before ?? {}) as Block, rest, value) } // what is on the way is a block
}

/** The same scenario with every replacement part at half its price. */
export function halfPrice(scenario: Block): Block {
  return ofComponents(scenario, component => {
    const { parts } = component.replacement as Block // every component of a base has one
    return typeof parts === 'number' ? put(component, { replacement: { parts: parts / 2 } }) : component
  })
}

/** The same scenario with every stated life half as long again, and whether any was. */
export function longerLife(scenario: Block): { readonly scenario: Block; readonly any: boolean } {
  let any = false
  const longer = ofComponents(scenario, component => {
    const failure = component.failure as Block | undefined
    const life = failure?.characteristic_life_years
    if (typeof life !== 'number') return component
    any = true
    return { ...component, failure: { ...failure, characteristic_life_years: life * 1.5 } }
  })
  return { scenario: longer, any }
}

function ofComponents(scenario: Block, change: (component: Block) => Block): Block {
  const options = scenario.options as readonly Block[] // of a base
  return {
    ...scenario,
    options: options.map(option => ({ ...option, components: (option.components as readonly Block[]).map(change) })),
  }
}
