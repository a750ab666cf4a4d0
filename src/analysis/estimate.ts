import { roofFindings } from '../energy/roof-findings.ts'
import type { Scenario } from '../scenario/model.ts'
import { BlockMerger } from '../simulation/merge.ts'
import type { OptionDraws } from '../simulation/option-figures.ts'
import {
  DRAWS_PER_BLOCK,
  DRAWS_PER_SET,
  type ParameterSet,
  type ParameterSets,
  type Points,
  parameterSetsOf,
} from '../simulation/parameter-sets.ts'
import { layoutOf } from '../simulation/play-draws.ts'
import { blockTasks, type Prepared, planOf, prepare, withScenario } from '../simulation/run.ts'
import { checkedSets } from './checked-counts.ts'
import { type Compared, comparePairs, pairedMean } from './comparison.ts'
import { differenceNotes } from './difference-notes.ts'
import { drivers } from './drivers.ts'
import { eachAtOnce, withLaterLives } from './later-lives.ts'
import { optionResult, type PlainOptionResult } from './option-result.ts'
import { OptionRun } from './option-run.ts'
import { drawsForPrecision } from './precision.ts'
import type { NullCase } from './results/comparison.ts'
import type { OptionResult } from './results/option.ts'
import type { WarrantySweep } from './results/what-if.ts'
import type { Results } from './results.ts'
import type { Runner, RunnerOf } from './runner.ts'
import { jobOf, ranked } from './same-job.ts'
import { movesSpare, withSpareAlike } from './spare-alike.ts'
import { SWING_DRAWS, type SwingCosts, swings } from './swings.ts'
import { switchInputs } from './switch-inputs.ts'
import { hasTierGap } from './unknowns-read.ts'
import { judgementShare, verdictGrade, WIDE_DRAWS, wideScenario, wideVerdicts } from './unmeasured.ts'
import { warrantyResults } from './warranty-results.ts'

/** Most parameter sets that the shares of the drivers are taken from. Ours: more would only cost time. */
const DRIVER_SETS = 2000

// the variants of a run: as the user wrote it, without a gap between tiers (U1c), with wider judged ranges (K4), …
const AS_WRITTEN = 0
const NULL_CASE = 1
const WIDE = 2
const SPARE_ALIKE = 3
const EACH_AT_ONCE = 4

/** How a scenario is to be played. */
export interface EstimateSettings {
  /** Taken up to a multiple of 20 (U1); with a precision, the most draws. */
  readonly draws: number
  readonly seed: number
  /** Share of the lowest mean cost under which every error must come (X2); null: play `draws`. */
  readonly precision: number | null
  /** How first failures are drawn; default by chance. */
  readonly points?: Points
  readonly tool: Results['tool']
}

/** Told how far the run is: share of the work done, [0, 1]. */
export type Progress = (share: number) => void

/**
 * Plays a scenario and works out everything the report says.
 *
 * @param scenario - complete
 * @param settings - draws, seed
 * @param runnerOf - plays blocks and carries out analyses, here or in threads
 * @param progress - told now and then
 * @returns the content of results.json; the same for the same scenario, seed and draws, whatever the runner
 */
export async function estimate(
  scenario: Scenario,
  settings: EstimateSettings,
  runnerOf: RunnerOf,
  progress: Progress,
): Promise<Results> {
  const prepared = prepare(scenario, settings.seed, settings.points)
  const nullCase: Scenario = { ...scenario, tierEffect: { fixed: 0 } }
  const wide = wideScenario(scenario)
  const variants = [scenario, nullCase, wide ?? scenario, withSpareAlike(scenario), eachAtOnce(scenario)].map(variant =>
    withScenario(prepared, variant),
  )
  const runner = runnerOf(variants, settings.draws)
  try {
    const draws =
      settings.precision === null
        ? Math.ceil(settings.draws / DRAWS_PER_SET) * DRAWS_PER_SET
        : await drawsForPrecision(prepared, settings.precision, settings.draws, runner.run)
    return await findAll(prepared, draws, settings, runner, wide, progress)
  } finally {
    await runner.close()
  }
}

async function findAll(
  prepared: Prepared,
  draws: number,
  settings: EstimateSettings,
  runner: Runner,
  wide: Scenario | null,
  progress: Progress,
): Promise<Results> {
  const { scenario } = prepared
  const sets = parameterSetsOf(scenario, prepared.seed, prepared.points)
  const drawsPerSet = sets.drawsPerSet(draws)
  const nSets = Math.max(1, Math.floor(draws / drawsPerSet))
  const places = scenario.options.map((_, option) => option)
  // policies and swings wait for nothing: threads take them up between the blocks
  const work = new Work(progress, draws * places.length, 3 * places.length)
  const policy = async (option: number): Promise<Policies> => ({
    replacementAge: await work.step(runner.analyse('replacementAge', { option, draws, drawsPerSet })),
    waitingPolicy: await work.step(runner.analyse('waitingPolicy', { option, draws, drawsPerSet })),
    countedAlike: await runner.analyse('countedAlike', { option, draws, drawsPerSet }),
  })
  const [played, policies, swingCosts] = await Promise.all([
    playAll(prepared, sets, draws, drawsPerSet, runner, wide, work.played),
    Promise.all(places.map(policy)),
    Promise.all(places.map(option => work.step(runner.analyse('swingCosts', { option, draws })))),
  ])
  const { compared, nullCosts, alikeCosts, wideCosts } = played
  const driverSets = Math.min(nSets, DRIVER_SETS)
  const firstOnes = firstSets(sets, driverSets)
  const judged = (those: readonly number[], figures: Float64Array): number | null =>
    judgementShare(scenario, those, firstOnes, figures, drawsPerSet)
  const options = played.options.map((result, i): OptionResult => {
    const { replacementAge = null, waitingPolicy = null, countedAlike = null } = policies[i] ?? {}
    const costs = compared[i]?.lifetimeCost ?? new Float64Array(draws)
    const variance = { ...result.variance, judgementShare: judged([i], costs) }
    return { ...result, variance, replacementAge, waitingPolicy, countedAlike }
  })
  const plainComparisons = comparePairs(
    compared,
    drawsPerSet,
    (option, against) => {
      const gap = [option, against].some(place => (nullCosts[place] ?? null) !== null)
      const inCase = (costs: readonly (Float64Array | null)[]): NullCase | null =>
        gap ? differenceIn(option, against, compared, costs, drawsPerSet) : null
      return { withTierEffect0: inCase(nullCosts), withTierEffect0AndSpareAlike: inCase(alikeCosts) }
    },
    judged,
  )
  const wideRuns = wide === null ? [] : wideVerdicts(compared, wideCosts, drawsPerSet)
  const swingsOf = (id: string): SwingCosts =>
    swingCosts[options.findIndex(option => option.id === id)] ?? { middle: 0, ends: new Map() }
  const comparisons = plainComparisons.map((pair, i) => ({
    ...pair,
    verdictGrade: pair.verdict === null ? null : verdictGrade(scenario, swingsOf(pair.option), swingsOf(pair.against)),
    wideRun: wideRuns[i] ?? null,
  }))
  const inRanking = ranked(compared.map(({ job }) => job))
  const [best = 0, second = best] = places
    .filter(place => inRanking[place])
    .toSorted((a, b) => (options[a]?.lifetimeCost.mean ?? 0) - (options[b]?.lifetimeCost.mean ?? 0))
  const bestCosts = compared[best]?.lifetimeCost ?? new Float64Array(draws)
  const secondCosts = compared[second]?.lifetimeCost ?? bestCosts
  const differences = best === second ? bestCosts : secondCosts.map((cost, draw) => cost - (bestCosts[draw] ?? 0))
  const pair = { best, second, bestCosts, secondCosts, drawsPerSet }
  const switchPoints = await Promise.all(
    best === second
      ? []
      : switchInputs(scenario, [best, second]).map((_, input) => runner.analyse('switchPoint', { input, pair })),
  )
  return {
    tool: settings.tool,
    scenario: {
      title: scenario.title,
      currency: scenario.currency,
      horizonYears: scenario.horizonYears,
      discountRate: scenario.discountRate,
    },
    seed: settings.seed,
    draws,
    blocks: Math.ceil(draws / DRAWS_PER_BLOCK),
    parameterSets: nSets,
    inputs: scenario.assumptions,
    options,
    roof: roofFindings(scenario),
    comparisons,
    warrantySweep: played.sweeps,
    switchPoints,
    swings: swings(scenario, swingCosts, best, second, Math.min(draws, SWING_DRAWS)),
    drivers: sets.vary
      ? drivers(scenario, [best, second], firstOnes, differences.subarray(0, driverSets * drawsPerSet), drawsPerSet)
      : [],
    driverSets,
    notes: [...scenario.notes, ...differenceNotes(scenario, options, comparisons)],
  }
}

/** What an option costs under other policies. */
type Policies = Pick<OptionResult, 'replacementAge' | 'waitingPolicy' | 'countedAlike'>

/** What the draws of the run came to, one entry an option. */
interface Played {
  readonly options: readonly PlainOptionResult[]
  readonly compared: readonly Compared[]
  readonly sweeps: readonly WarrantySweep[]
  /** Lifetime costs with tier effect 0; null where no tier gap was played. */
  readonly nullCosts: readonly (Float64Array | null)[]
  /** The same with spares at one price (K5); null where neither changes anything. */
  readonly alikeCosts: readonly (Float64Array | null)[]
  /** Lifetime costs of the wide run, from its fewer draws (K4); empty without one. */
  readonly wideCosts: readonly Float64Array[]
}

/** Plays all options, one after another, so that no more than one is held whole. */
async function playAll(
  prepared: Prepared,
  sets: ParameterSets,
  draws: number,
  drawsPerSet: number,
  runner: Runner,
  wide: Scenario | null,
  finished: (draws: number) => void,
): Promise<Played> {
  const { scenario } = prepared
  const checked = checkedSets(sets, Math.max(1, Math.floor(draws / drawsPerSet)))
  const options: PlainOptionResult[] = []
  const compared: Compared[] = []
  const sweeps: WarrantySweep[] = []
  const nullCosts: (Float64Array | null)[] = []
  const alikeCosts: (Float64Array | null)[] = []
  const wideCosts: Float64Array[] = []
  const anyGap = scenario.tierEffect !== null && scenario.options.some(hasTierGap)
  const play = async (
    option: number,
    sweep: boolean,
    variant: number,
    taken: (block: OptionDraws) => void,
    most = draws,
  ): Promise<OptionDraws> => {
    const merger = new BlockMerger(most, !sets.vary)
    await runner.run(blockTasks(option, most, sweep, variant), block => {
      merger.add(block)
      taken(block)
    })
    return merger.whole()
  }
  for (let option = 0; option < scenario.options.length; option++) {
    const plan = planOf(prepared, option)
    const merged = await play(option, true, AS_WRITTEN, block => finished(block.draws))
    const optionRun = new OptionRun(merged, layoutOf(plan, true), !sets.vary)
    const result = optionResult(plan, optionRun, drawsPerSet, checked)
    const { populations } = result
    options.push({
      ...result,
      populations: await withLaterLives(prepared, option, populations, sets, draws, EACH_AT_ONCE, runner.run),
    })
    sweeps.push(warrantyResults(plan, optionRun))
    compared.push({
      id: plan.option.id,
      upfrontCost: plan.option.upfrontCost,
      lifetimeCost: merged.lifetimeCost,
      presentByYear: merged.byYear.present.map(sum => sum / draws),
      acquisition: result.totals.acquisition,
      job: jobOf(plan.option),
      battery: {
        earnings: 0 - result.costs.batteryEarnings,
        outage: result.costs.batteryOutage,
        days: optionRun.mean(optionRun.layout.of('batteryDays')),
      },
    })
    const gap = scenario.tierEffect !== null && hasTierGap(plan.option)
    const nullCase = gap ? (await play(option, false, NULL_CASE, () => {})).lifetimeCost : null
    nullCosts.push(nullCase)
    const moved = anyGap && movesSpare(scenario, option)
    alikeCosts.push(moved ? (await play(option, false, SPARE_ALIKE, () => {})).lifetimeCost : nullCase)
    if (wide !== null) {
      wideCosts.push((await play(option, false, WIDE, () => {}, Math.min(draws, WIDE_DRAWS))).lifetimeCost)
    }
  }
  return { options, compared, sweeps, nullCosts, alikeCosts, wideCosts }
}

/** K3 from the lifetime costs of another case (U1c, K5); options that it does not change keep theirs. */
function differenceIn(
  option: number,
  against: number,
  compared: readonly Compared[],
  costs: readonly (Float64Array | null)[],
  drawsPerSet: number,
): NullCase | null {
  const [dear, cheap] = [compared[option], compared[against]]
  if (dear === undefined || cheap === undefined) return null
  const dearCosts = costs[option] ?? dear.lifetimeCost
  const cheapCosts = costs[against] ?? cheap.lifetimeCost
  const { mean, standardError } = pairedMean(
    dearCosts.map((cost, draw) => cost - (cheapCosts[draw] ?? 0)),
    drawsPerSet,
  )
  return {
    meanDifference: mean,
    standardError,
    breakEvenPremium: dear.upfrontCost - cheap.upfrontCost - mean,
  }
}

/** The first parameter sets of a run. */
function firstSets(sets: ParameterSets, count: number): ParameterSet[] {
  const perBlock = DRAWS_PER_BLOCK / DRAWS_PER_SET
  const found: ParameterSet[] = []
  for (let block = 0; found.length < count; block++) found.push(...sets.ofBlock(block, perBlock))
  return found.slice(0, count)
}

/** How far a run is: its draws are taken as two fifths of it, the analyses beside them as the rest. */
class Work {
  readonly played: (draws: number) => void
  readonly #progress: Progress
  readonly #draws: number
  readonly #steps: number
  #drawsDone = 0
  #stepsDone = 0

  constructor(progress: Progress, draws: number, steps: number) {
    this.#progress = progress
    this.#draws = draws
    this.#steps = steps
    this.played = count => {
      this.#drawsDone += count
      this.#tell()
    }
  }

  /** Counts an analysis when it is done. */
  async step<Found>(found: Promise<Found>): Promise<Found> {
    const result = await found
    this.#stepsDone++
    this.#tell()
    return result
  }

  #tell(): void {
    this.#progress((0.4 * this.#drawsDone) / this.#draws + (0.6 * this.#stepsDone) / this.#steps)
  }
}
