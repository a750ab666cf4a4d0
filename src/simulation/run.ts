import { calendarOf } from '../energy/calendar.ts'
import type { OptionEnergy } from '../energy/option-energy.ts'
import { energyOfOptions } from '../energy/options-energy.ts'
import type { Scenario } from '../scenario/model.ts'
import type { OptionDraws } from './option-figures.ts'
import { OptionPlan } from './option-plan.ts'
import { DRAWS_PER_BLOCK, DRAWS_PER_SET, type ParameterSets, type Points, parameterSetsOf } from './parameter-sets.ts'
import { playDraws } from './play-draws.ts'

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
}

/** Plays blocks, here or in worker threads; results come in the order of the tasks. */
export type BlockRunner = (tasks: readonly BlockTask[], finished: (draws: number) => void) => Promise<OptionDraws[]>

/**
 * Works out the energy of every option once.
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
 * names, so every history that the change does not touch stays (K1).
 *
 * @param prepared - the run
 * @param scenario - changed
 */
export function withScenario(prepared: Prepared, scenario: Scenario): Prepared {
  return { ...prepared, scenario }
}

/**
 * One option made ready to be played.
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

/**
 * Plays one block of one option (U1).
 *
 * @param plan - the option
 * @param sets - of the run
 * @param task - which block
 */
export function playBlock(plan: OptionPlan, sets: ParameterSets, task: BlockTask): OptionDraws {
  const drawsPerSet = Math.min(sets.drawsPerSet(task.draws), task.draws)
  return playDraws(plan, {
    first: task.block * DRAWS_PER_BLOCK,
    draws: task.draws,
    drawsPerSet,
    sets: sets.ofBlock(task.block, Math.ceil(task.draws / DRAWS_PER_SET)),
    sweep: task.sweep,
  })
}

/**
 * Plays blocks of some variants of a run, keeping what was made ready for each option.
 */
export class BlockPlayer {
  readonly #variants: readonly Prepared[]
  readonly #sets: readonly ParameterSets[]
  readonly #plans = new Map<string, OptionPlan>()

  /** @param variants - the run, and the same run under changed scenarios */
  constructor(variants: readonly Prepared[]) {
    this.#variants = variants
    this.#sets = variants.map(({ scenario, seed, points }) => parameterSetsOf(scenario, seed, points))
  }

  /** Plays one block. */
  play(task: BlockTask): OptionDraws {
    const prepared = this.#variants[task.variant]
    const sets = this.#sets[task.variant]
    if (prepared === undefined || sets === undefined) throw new RangeError(`no variant ${task.variant}`)
    const key = `${task.variant}/${task.option}`
    const plan = this.#plans.get(key) ?? planOf(prepared, task.option)
    this.#plans.set(key, plan)
    return playBlock(plan, sets, task)
  }
}

/**
 * Plays blocks in this thread.
 *
 * @param variants - the run, and the same run under changed scenarios
 */
export function localRunner(variants: readonly Prepared[]): BlockRunner {
  const player = new BlockPlayer(variants)
  return async (tasks, finished) => {
    const results: OptionDraws[] = []
    for (const task of tasks) {
      results.push(player.play(task))
      finished(task.draws)
      // lets a signal and the progress bar through
      if (results.length % 8 === 0) await new Promise(resolve => setImmediate(resolve))
    }
    return results
  }
}

/**
 * The blocks of one option (U1): full ones, then what is left.
 *
 * @param option - which option
 * @param draws - of the run, a multiple of 20
 * @param sweep - with the warranty sweep
 * @param variant - which of the runner's scenarios
 */
export function blockTasks(option: number, draws: number, sweep: boolean, variant = 0): BlockTask[] {
  const tasks: BlockTask[] = []
  for (let block = 0; block * DRAWS_PER_BLOCK < draws; block++) {
    tasks.push({ variant, option, block, draws: Math.min(DRAWS_PER_BLOCK, draws - block * DRAWS_PER_BLOCK), sweep })
  }
  return tasks
}
