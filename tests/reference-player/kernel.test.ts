import fc from 'fast-check'
import { expect, test } from 'vitest'
import { allOf } from '../../src/history/lifetimes.ts'
import { Accounts } from '../../src/ledger/accounts.ts'
import { priceLifetimes } from '../../src/ledger/price-lifetimes.ts'
import { middleSet } from '../../src/simulation/parameter-sets.ts'
import { OptionPlayer } from '../../src/simulation/play-option.ts'
import { planOf, prepare } from '../../src/simulation/run.ts'
import { SetCosts } from '../../src/simulation/set-costs.ts'
import { read } from '../worlds.ts'
import { referenceDraw } from './play.ts'
import { scenarios } from './scenarios.ts'

const DRAWS = 12
const COLUMNS = [
  'parts',
  'surcharges',
  'labour',
  'visits',
  'coveredParts',
  'coveredLabour',
  'coveredVisits',
  'outageEnergy',
  'batteryOutage',
  'lostKwh',
  'lostKwhDiscounted',
  'downYears',
  'backupDownYears',
] as const

test('every column of every draw', () => {
  fc.assert(
    fc.property(scenarios, fc.integer({ min: 1, max: 1e6 }), (blocks, seed) => {
      const scenario = read(blocks)
      const plan = planOf(prepare(scenario, seed), 0)
      const set = plan.at(middleSet(scenario.unknowns.length))
      const player = new OptionPlayer(plan)
      const accounts = new Accounts(scenario.horizonYears)
      const costs = new SetCosts(plan, set)
      for (let draw = 0; draw < DRAWS; draw++) {
        player.lifetimes.clear()
        player.play(draw, set)
        priceLifetimes(allOf(player.lifetimes), set.terms, plan.supply, accounts)
        costs.residual.of(allOf(player.lifetimes), accounts.residual)
        const { account, failures } = referenceDraw(plan, set, draw)
        expect(player.lifetimes.history.nFailures).toBe(failures.length)
        for (const column of COLUMNS) {
          const ours = accounts[column][0] ?? 0
          const theirs = account[column]
          if (Math.abs(ours - theirs) > 1e-6 * Math.max(1, Math.abs(theirs)))
            throw new Error(`${column} draw ${draw}: ${ours} vs ${theirs}`)
        }
      }
    }),
    { numRuns: Number(process.env.RUNS ?? 60), seed: Number(process.env.SEED ?? 11), endOnFailure: true },
  )
}, 300000)
