/** Scenarios as a user would write them, built piece by piece, and their lifetimes row by row. */
import type { AnalysisName, Found } from '../src/analysis/analyses.ts'
import { estimate } from '../src/analysis/estimate.ts'
import type { Results } from '../src/analysis/results.ts'
import { type RunnerOf, runHere } from '../src/analysis/runner.ts'
import { drawExits } from '../src/history/chance.ts'
import { ProviderExits } from '../src/history/provider-exits.ts'
import { CLAIM, NUMBERS } from '../src/history/rows.ts'
import type { StreamKey } from '../src/numerics/random/streams.ts'
import type { Scenario } from '../src/scenario/model.ts'
import { readScenario } from '../src/scenario/read-scenario.ts'
import type { OptionSet } from '../src/simulation/option-set.ts'
import { middleSet } from '../src/simulation/parameter-sets.ts'
import { OptionPlayer } from '../src/simulation/play-option.ts'
import { planOf, prepare } from '../src/simulation/run.ts'

/** A block of a scenario file. */
export type Block = { readonly [key: string]: unknown }

const isBlock = (value: unknown): value is Block => typeof value === 'object' && value !== null && !Array.isArray(value)

/** A block with some keys in place of its own, however deep; lists are replaced whole. */
export function put(into: Block, over: Block): Block {
  const merged: Record<string, unknown> = { ...into }
  for (const [key, value] of Object.entries(over)) {
    const own = merged[key]
    merged[key] = isBlock(own) && isBlock(value) ? put(own, value) : value
  }
  return merged
}

/** A failure that comes at one age, to about a thousandth of a year; no spread, no batch. */
export function failsAt(ageYears: number, over: Block = {}): Block {
  return { shape: 10_000, characteristic_life_years: ageYears, model_spread: 0, bad_batch: { chance: 0 }, ...over }
}

/** A Weibull life without spread and batch. */
export function weibull(shape: number, lifeYears: number, over: Block = {}): Block {
  return { shape, characteristic_life_years: lifeYears, model_spread: 0, bad_batch: { chance: 0 }, ...over }
}

/** A life beyond every horizon. */
export const NEVER = failsAt(5000)

/** A unit with every key given: no delay, no cover, no growth. */
export function unit(kind: string, over: Block = {}): Block {
  const told: Block = {
    kind,
    downtime: { detect_days: 0, detect_days_unmonitored: 0, respond_days: 0, repair_days: 0, claim_days: 0 },
    replacement: { parts: 1000, labour: 200, labour_each_further: 50, parts_growth: 0 },
    warranty: { years: 0, labour_years: 0, claim_success: 1 },
    on_roof: false,
    ...(kind === 'optimiser' ? { takes_string_down: 0 } : {}),
  }
  // a failure has one form: it is never mixed with another
  return { ...put(told, over), failure: over.failure ?? NEVER }
}

/** An option whose providers stay and where every failure has a visit of its own. */
export function option(name: string, topology: string, components: readonly Block[], over: Block = {}): Block {
  return put(
    {
      name,
      topology,
      upfront_cost: 5000,
      components,
      warranty_provider: { exit_rate_per_year: 0 },
      labour_provider: { exit_rate_per_year: 0 },
      visit_policy: 'each',
    },
    over,
  )
}

/** A string inverter alone. */
export function single(over: Block = {}, optionOver: Block = {}, name = 'One'): Block {
  return option(name, 'string', [unit('string-inverter', over)], optionOver)
}

/** A scenario with every key given: 365 kWh a year in each month's share of days, all sold at 1 a kWh. */
export function world(options: readonly Block[], over: Block = {}): Block {
  return put(
    {
      title: 'A world',
      horizon_years: 20,
      start: '2027-01',
      discount_rate: 0,
      site: {
        panels: 10,
        generation: { monthly_kwh: DAYS_OF_MONTHS, degradation: 0 },
        energy_value: {
          import_price_per_kwh: 1,
          export_price_per_kwh: 1,
          self_consumed: 0,
          price_growth: 0,
          export_price_growth: 0,
        },
      },
      visit: { call_out: 100, roof_access: 30, labour_growth: 0 },
      options,
    },
    over,
  )
}

/** Days of the months: as kWh they make 1 kWh a day. */
export const DAYS_OF_MONTHS = [31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31]

/** Reads a scenario as the program does. */
export function read(blocks: Block): Scenario {
  return readScenario(JSON.stringify(blocks), 'world.json', '.')
}

/** How a scenario is played by a test. */
interface PlaySettings {
  readonly draws?: number
  readonly seed?: number
  readonly precision?: number
}

/** Plays a scenario as the program does, in this thread. */
export function play(blocks: Block, settings: PlaySettings = {}): Promise<Results> {
  return playWith(runHere, blocks, settings)
}

/** Plays options, comparisons and warranty terms; leaves out policies, swings and switch points, most of the work. */
export function playOptions(blocks: Block, settings: PlaySettings = {}): Promise<Results> {
  return playWith(runOptions, blocks, settings)
}

function playWith(runnerOf: RunnerOf, blocks: Block, settings: PlaySettings): Promise<Results> {
  const { draws: most = 20, seed = 1, precision = null } = settings
  const draws = precision === null ? most : { precision, least: 4000, most, every: 4000 }
  return estimate(read(blocks), { draws, seed, tool: { name: 'lifetally', version: '0' } }, runnerOf, () => {})
}

/** Runs everything in this thread, and finds nothing in the analyses. */
export const runOptions: RunnerOf = variants => {
  const nothing: { readonly [Name in AnalysisName]: Found<Name> } = {
    replacementAge: null,
    waitingPolicy: null,
    countedAlike: null,
    otherComponents: [],
    swingCosts: { middle: 0, ends: new Map() },
    switchPoint: {
      input: '',
      option: null,
      unit: '',
      present: 0,
      value: null,
      low: 0,
      high: 0,
      halfFailBy: null,
      differenceThere: null,
      standardError: null,
      draws: null,
    },
  }
  return { ...runHere(variants), analyse: async name => nothing[name] }
}

/** The first result of a list. */
export function first<T>(list: readonly T[]): T {
  const [one] = list
  if (one === undefined) throw new Error('the list is empty')
  return one
}

/** One row of a history. */
export interface Row {
  readonly row: number
  readonly place: number
  readonly before: number
  readonly failedAt: number
  readonly detectedAt: number
  readonly returnedAt: number
  readonly fittedAt: number
  readonly visit: number
  readonly action: number
  readonly mode: number
  readonly claim: number
  readonly string: number
  readonly takesString: number
}

/** One lifetime: rows in order of time, exits of the maker, ends of production. */
export interface Life {
  readonly rows: readonly Row[]
  readonly partsExits: readonly number[]
  readonly endOfProduction: readonly number[]
}

/** The lifetimes of an option with everything at its middle: all chance, no money. */
export function livesOf(blocks: Block, draws: number, place = 0, seed = 1): Life[] {
  const scenario = read(blocks)
  const plan = planOf(prepare(scenario, seed), place)
  const set = plan.at(middleSet(scenario.unknowns.length))
  const player = new OptionPlayer(plan)
  const { history } = player
  return Array.from({ length: draws }, (_, draw) => {
    player.playSome(draw, draw + 1, set)
    const rows = history.rows
      .flatMap((own, population) => {
        const needsVisit = set.parameters.units[population]?.needsVisit ?? true
        return Array.from({ length: own.n }, (__, row): Row => {
          const at = (column: { readonly [i: number]: number | undefined }): number => column[row] ?? Number.NaN
          // a visit of its own gets a number behind those that are shared
          const alone = needsVisit && at(own.returnedAt) < Infinity ? 1000 * (population + 1) + row : -1
          return {
            row,
            place: population,
            before: at(own.before),
            failedAt: at(own.failedAt),
            detectedAt: at(own.detectedAt),
            returnedAt: at(own.returnedAt),
            fittedAt: at(own.fittedAt),
            visit: at(own.visit) < 0 ? alone : at(own.visit),
            action: at(own.action),
            mode: at(own.mode),
            claim: own.numbers[NUMBERS * row + CLAIM] ?? Number.NaN,
            string: at(own.string),
            takesString: at(own.takesString),
          }
        })
      })
      .sort((a, b) => a.failedAt - b.failedAt)
    // a lifetime without failures asks for no exits
    const exits = rows.length > 0 ? exitsIn(history.partsExits, 0) : exitsOf(plan.partsProviderKey, draw, set)
    return {
      rows,
      partsExits: exits,
      endOfProduction: history.endOfProduction.map(ends => ends[0] ?? Infinity),
    }
  })
}

function exitsOf(key: StreamKey, draw: number, { partsExitRate, parameters }: OptionSet): number[] {
  const exits = new ProviderExits()
  exits.begin(1)
  drawExits(key, draw, partsExitRate, parameters.horizonYears, exits, 0)
  return exitsIn(exits, 0)
}

/** Moments at which a provider leaves in a lifetime. */
export function exitsIn({ first, at }: ProviderExits, lane: number): number[] {
  const from = first[lane] ?? 0
  return [...at.subarray(from, at.indexOf(Infinity, from))]
}

/** Mean of some numbers. */
export function meanOf(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0) / values.length
}

/** Mean, and how many standard errors it lies from what it should be. */
export function zOf(values: readonly number[], expected: number): number {
  const mean = meanOf(values)
  const variance = values.reduce((sum, value) => sum + (value - mean) ** 2, 0) / (values.length - 1)
  return (mean - expected) / Math.sqrt(variance / values.length)
}

/** Days as years of 365. */
export const days = (count: number): number => count / 365
