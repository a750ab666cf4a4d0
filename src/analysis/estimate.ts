import { roofFindings } from '../energy/roof-findings.ts'
import type { Scenario } from '../scenario/model.ts'
import {
  DRAWS_PER_BLOCK,
  DRAWS_PER_SET,
  type ParameterSet,
  type ParameterSets,
  type Points,
  parameterSetsOf,
} from '../simulation/parameter-sets.ts'
import { type Prepared, prepare, withScenario } from '../simulation/run.ts'
import { type Costs, comparePairs } from './comparison/comparison.ts'
import { differenceNotes } from './comparison/difference-notes.ts'
import { differenceIn } from './comparison/null-case.ts'
import { ranked } from './comparison/same-job.ts'
import { judgementShare, turningInputs, wideVerdicts } from './comparison/unmeasured.ts'
import { drawUntil, isSharpened } from './means/draw-option.ts'
import { errorShare, type Until } from './means/precision.ts'
import { type Played, playAll } from './play-options.ts'
import type { NullCase } from './results/comparison.ts'
import type { OptionResult } from './results/option.ts'
import type { WarrantySweep } from './results/what-if.ts'
import type { Results } from './results.ts'
import type { Runner, RunnerOf } from './runner.ts'
import { drivers } from './sensitivity/drivers.ts'
import { SWING_DRAWS, type SwingCosts, swings } from './sensitivity/swings.ts'
import { switchInputs } from './sensitivity/switch-inputs.ts'
import { variantsOf } from './variants.ts'
import { type Progress, Work } from './work.ts'

/** Most parameter sets that the shares of the drivers are taken from. Ours: more would only cost time. */
const DRIVER_SETS = 2000

/** How a scenario is to be played. */
export interface EstimateSettings {
  /** How many, rounded up to a multiple of 20 (U1), or when to stop (X2, X3). */
  readonly draws: number | Until
  readonly seed: number
  /** How first failures are drawn; default: at random. */
  readonly points?: Points
  readonly tool: Results['tool']
}

/**
 * Plays a scenario and computes all figures of the report.
 *
 * @param scenario - complete
 * @param settings - draws, seed
 * @param runnerOf - plays blocks and carries out analyses, here or in threads
 * @param progress - called with the share of the work that is done
 * @returns the content of results.json; the same for the same scenario, seed and draws, whatever the runner
 */
export async function estimate(
  scenario: Scenario,
  settings: EstimateSettings,
  runnerOf: RunnerOf,
  progress: Progress,
): Promise<Results> {
  const prepared = prepare(scenario, settings.seed, settings.points)
  const variants = variantsOf(scenario).map(variant => withScenario(prepared, variant))
  const { draws } = settings
  const runner = runnerOf(variants, typeof draws === 'number' ? draws : draws.most)
  try {
    return await findAll(prepared, settings, runner, progress)
  } finally {
    await runner.close()
  }
}

async function findAll(
  prepared: Prepared,
  settings: EstimateSettings,
  runner: Runner,
  progress: Progress,
): Promise<Results> {
  const { scenario } = prepared
  const sets = parameterSetsOf(scenario, prepared.seed, prepared.points)
  const places = scenario.options.map((_, option) => option)
  const until = typeof settings.draws === 'number' ? null : settings.draws
  const stated = typeof settings.draws === 'number' ? wholeSets(settings.draws) : wholeSets(settings.draws.most)
  // policies and swings need no other result: threads run them between the blocks
  const work = new Work(progress, stated * places.length, 3 * places.length)
  const early = until === null ? stated : Math.min(stated, until.least)
  const few = { draws: early, drawsPerSet: sets.drawsPerSet(early) }
  const policy = async (option: number): Promise<Policies> => ({
    replacementAge: await work.step(runner.analyse('replacementAge', { option, ...few })),
    waitingPolicy: await work.step(runner.analyse('waitingPolicy', { option, ...few })),
    countedAlike: await runner.analyse('countedAlike', { option, ...few }),
    otherComponents: await runner.analyse('otherComponents', { option, ...few }),
  })
  const play = async (): Promise<{ readonly draws: number; readonly played: Played }> => {
    const first =
      until === null ? { draws: stated, options: [] } : await drawUntil(prepared, sets, until, runner.run, work.played)
    const sharpened = until !== null || isSharpened(first.draws)
    const { draws } = first
    return { draws, played: await playAll(prepared, sets, draws, sharpened, runner, first.options, work.played) }
  }
  const [{ draws, played }, policies, swingCosts] = await Promise.all([
    play(),
    Promise.all(places.map(policy)),
    Promise.all(places.map(option => work.step(runner.analyse('swingCosts', { option, draws: early })))),
  ])
  const drawsPerSet = sets.drawsPerSet(draws)
  const nSets = Math.max(1, Math.floor(draws / drawsPerSet))
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
      const inCase = (costs: readonly (Costs | null)[]): NullCase | null =>
        gap ? differenceIn(option, against, compared, costs, drawsPerSet) : null
      return { withTierEffect0: inCase(nullCosts), withTierEffect0AndSpareAlike: inCase(alikeCosts) }
    },
    judged,
  )
  const wideRuns = wideCosts.length === 0 ? [] : wideVerdicts(compared, wideCosts, drawsPerSet)
  const swingsOf = (id: string): SwingCosts =>
    swingCosts[options.findIndex(option => option.id === id)] ?? { middle: 0, ends: new Map() }
  const comparisons = plainComparisons.map((pair, i) => {
    const turnedBy = pair.verdict === null ? [] : turningInputs(scenario, swingsOf(pair.option), swingsOf(pair.against))
    return { ...pair, verdictGrade: turnedBy[0]?.known ?? null, turnedBy, wideRun: wideRuns[i] ?? null }
  })
  const inRanking = ranked(compared.map(({ job }) => job))
  const [best = 0, second = best] = places
    .filter(place => inRanking[place])
    .toSorted((a, b) => (options[a]?.lifetimeCost.mean ?? 0) - (options[b]?.lifetimeCost.mean ?? 0))
  const bestCosts = compared[best]?.lifetimeCost ?? new Float64Array(draws)
  const secondCosts = compared[second]?.lifetimeCost ?? bestCosts
  const differences = best === second ? bestCosts : secondCosts.map((cost, draw) => cost - (bestCosts[draw] ?? 0))
  const difference = (options[second]?.lifetimeCost.mean ?? 0) - (options[best]?.lifetimeCost.mean ?? 0)
  const pair = { best, second, bestCosts, secondCosts, drawsPerSet, difference }
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
    errorShare: errorShare(
      compared.map(one => ({ ...one, earnings: one.battery.earnings })),
      drawsPerSet,
    ),
    blocks: Math.ceil(draws / DRAWS_PER_BLOCK),
    parameterSets: nSets,
    inputs: scenario.assumptions,
    options,
    roof: roofFindings(scenario),
    comparisons,
    warrantySweep: played.sweeps.map((sweep, i) => ({ ...sweep, otherComponents: policies[i]?.otherComponents ?? [] })),
    switchPoints,
    swings: swings(scenario, swingCosts, best, second, Math.min(early, SWING_DRAWS)),
    drivers: sets.vary
      ? drivers(scenario, [best, second], firstOnes, differences.subarray(0, driverSets * drawsPerSet), drawsPerSet)
      : [],
    driverSets,
    notes: [...scenario.notes, ...differenceNotes(scenario, options, comparisons)],
  }
}

/** What an option costs under other policies and terms. */
type Policies = Pick<OptionResult, 'replacementAge' | 'waitingPolicy' | 'countedAlike'> &
  Pick<WarrantySweep, 'otherComponents'>

/** A number of draws rounded up to whole parameter sets (U1). */
function wholeSets(draws: number): number {
  return Math.ceil(draws / DRAWS_PER_SET) * DRAWS_PER_SET
}

/** The first parameter sets of a run. */
function firstSets(sets: ParameterSets, count: number): ParameterSet[] {
  const perBlock = DRAWS_PER_BLOCK / DRAWS_PER_SET
  const found: ParameterSet[] = []
  for (let block = 0; found.length < count; block++) found.push(...sets.ofBlock(block, perBlock))
  return found.slice(0, count)
}
