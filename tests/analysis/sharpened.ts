/** Draws of one option with their sharpened means, and options in which much is unknown. */

import { type Drawn, drawAll } from '../../src/analysis/means/draw-option.ts'
import { OptionRun } from '../../src/analysis/option/option-run.ts'
import { parameterSetsOf } from '../../src/simulation/parameter-sets.ts'
import { type BlockRunner, localRunner, planOf, prepare } from '../../src/simulation/run.ts'
import type { OptionDraws } from '../../src/simulation/sums/sum-layout.ts'
import { type Block, option, read, unit, weibull, world } from '../worlds.ts'

/** Draws of the first option, sharpened or plain. */
export async function drawn(
  blocks: Block,
  draws: number,
  seed: number,
  sharpened = true,
  kept: Map<string, OptionDraws> = new Map(),
): Promise<Drawn & { readonly run: OptionRun }> {
  const prepared = prepare(read(blocks), seed)
  const sets = parameterSetsOf(prepared.scenario, seed, 'random')
  const asked = { option: 0, variant: 0, sweep: false, draws, sharpened }
  const found = await drawAll(planOf(prepared, 0), asked, sets, playingOnce(localRunner([prepared]), kept), () => {})
  return { ...found, run: new OptionRun(found.merged, found.layout, !sets.vary, found.sharp) }
}

/** Plays each block once, however often it is asked for. */
export function playingOnce(run: BlockRunner, kept: Map<string, OptionDraws> = new Map()): BlockRunner {
  return async (tasks, take) => {
    for (const task of tasks) {
      const key = JSON.stringify(task)
      if (!kept.has(key)) await run([task], block => kept.set(key, block))
      const block = kept.get(key)
      if (block !== undefined) take(block)
    }
  }
}

/** A bad batch that hits often. */
export const BATCH = { chance: '30%', affects: '60%', life_times: 0.4 }
/** A life that is not known. */
export const LIFE = { shape: 2.5, characteristic_life_years: { low: 9, high: 16 }, model_spread: 0.5 }
const inverter = (over: Block): Block => unit('string-inverter', over)
/** Units of three kinds that wait for a visit. */
export const roof = (over: Block): Block =>
  option(
    'Roof',
    'string-optimisers',
    [
      inverter({ failure: { ...LIFE, bad_batch: BATCH } }),
      unit('optimiser', {
        count: 10,
        failure: weibull(1.5, 30, { bad_batch: BATCH }),
        takes_string_down: 0.2,
        downtime: { detect_days: { median: 20, p90: 90 }, respond_days: { median: 10, p90: 40 } },
      }),
      unit('gateway', { failure: weibull(1.2, 9) }),
    ],
    { visit_policy: { wait_for_units: 2, wait_at_most_days: 300 }, ...over },
  )

/** A roof with unknown prices. */
export function priced(): Block {
  return world([roof({})], {
    visit: { call_out: { low: 80, high: 200 }, labour_growth: { low: '-1%', high: '2%' } },
    discount_rate: 0.03,
  })
}
