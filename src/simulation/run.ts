import { calendarOf } from '../energy/calendar.ts'
import type { OptionEnergy } from '../energy/option-energy.ts'
import { energyOfOptions } from '../energy/options-energy.ts'
import type { Scenario } from '../scenario/model.ts'
import { OptionPlan } from './option-plan.ts'
import {
  DRAWS_PER_BLOCK,
  DRAWS_PER_SET,
  type ParameterSet,
  type ParameterSets,
  type Points,
  parameterSetsOf,
} from './parameter-sets.ts'
import { DrawPlayer } from './play-draws.ts'
import type { OptionDraws } from './sums/sum-layout.ts'

/** A scenario with all that does not change from draw to draw. */
export interface Prepared {
  readonly scenario: Scenario
  readonly energies: readonly OptionEnergy[]
  readonly seed: number
  readonly points: Points
}

/** One piece of work: a block of draws of one option. Its result depends on nothing but itself (N3). */
export interface BlockTask {
  /** Which of the runner's scenarios; 0 is the one the user wrote. */
  readonly variant: number
  readonly option: number
  readonly block: number
  readonly draws: number
  readonly sweep: boolean
  /** With control variates, in sets of 20 draws even where nothing is unknown (X3). */
  readonly controls: boolean
}

/** Plays blocks, here or in worker threads; results come in the order of the tasks. */
export type BlockRunner = (tasks: readonly BlockTask[], take: (block: OptionDraws) => void) => Promise<void>

/**
 * Computes the energy of every option once.
 *
 * @param scenario - the scenario
 * @param seed - of the run
 * @param points - how first failures are drawn
 */
export function prepare(scenario: Scenario, seed: number, points: Points = 'random'): Prepared {
  const calendar = calendarOf(scenario.startMonth, scenario.horizonYears)
  return { scenario, energies: energyOfOptions(scenario, calendar), seed, points }
}

/**
 * The same run under another scenario that has the same roof: prices, terms or policies changed. Streams are keyed by
 * names, so a history that the change does not affect is the same (K1).
 *
 * @param prepared - the run
 * @param scenario - changed
 */
export function withScenario(prepared: Prepared, scenario: Scenario): Prepared {
  return { ...prepared, scenario }
}

/**
 * One option prepared for play.
 *
 * @param prepared - the run
 * @param option - which option
 */
export function planOf(prepared: Prepared, option: number): OptionPlan {
  const { scenario, energies, seed, points } = prepared
  const energy = energies[option]
  if (energy === undefined) throw new RangeError(`no option ${option}`)
  return new OptionPlan(scenario, option, energy, calendarOf(scenario.startMonth, scenario.horizonYears), seed, points)
}

/** Plays blocks of some variants of a run, keeping the prepared options. */
export class BlockPlayer {
  readonly #variants: readonly Prepared[]
  readonly #sets: readonly ParameterSets[]
  readonly #players = new Map<string, DrawPlayer>()

  /** @param variants - the run, and the same run under changed scenarios */
  constructor(variants: readonly Prepared[]) {
    this.#variants = variants
    this.#sets = variants.map(({ scenario, seed, points }) => parameterSetsOf(scenario, seed, points))
  }

  /** Plays one block of one option (U1). */
  play({ variant, option, block, draws, sweep, controls }: BlockTask): OptionDraws {
    const prepared = this.#variants[variant]
    const sets = this.#sets[variant]
    if (prepared === undefined || sets === undefined) throw new RangeError(`no variant ${variant}`)
    const key = `${variant}/${option}/${sweep}/${controls}`
    const player = this.#players.get(key) ?? new DrawPlayer(planOf(prepared, option), sweep, controls)
    this.#players.set(key, player)
    const nSets = Math.ceil(draws / DRAWS_PER_SET)
    const own = sets.ofBlock(block, nSets)
    const [only] = own
    return player.play({
      first: block * DRAWS_PER_BLOCK,
      draws,
      drawsPerSet: controls ? DRAWS_PER_SET : Math.min(sets.drawsPerSet(draws), draws),
      sets: controls && !sets.vary && only !== undefined ? new Array<ParameterSet>(nSets).fill(only) : own,
    })
  }
}

/**
 * Plays blocks in this thread.
 *
 * @param variants - the run, and the same run under changed scenarios
 */
export function localRunner(variants: readonly Prepared[]): BlockRunner {
  const player = new BlockPlayer(variants)
  return async (tasks, take) => {
    for (const [i, task] of tasks.entries()) {
      take(player.play(task))
      // lets signals and the progress bar be handled
      if (i % 8 === 7) await new Promise(resolve => setImmediate(resolve))
    }
  }
}

/**
 * The blocks of one option (U1): full ones, then the remainder.
 *
 * @param option - which option
 * @param draws - of the run, a multiple of 20
 * @param sweep - with the warranty sweep
 * @param variant - which of the runner's scenarios
 * @param controls - with control variates (X3)
 */
export function blockTasks(option: number, draws: number, sweep: boolean, variant = 0, controls = false): BlockTask[] {
  const tasks: BlockTask[] = []
  for (let block = 0; block * DRAWS_PER_BLOCK < draws; block++) {
    const own = Math.min(DRAWS_PER_BLOCK, draws - block * DRAWS_PER_BLOCK)
    tasks.push({ variant, option, block, draws: own, sweep, controls })
  }
  return tasks
}
