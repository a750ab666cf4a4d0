import { decideClaims } from '../../src/ledger/claims.ts'
import { Priced } from '../../src/ledger/price-lifetimes.ts'
import { payRepairs } from '../../src/ledger/repairs.ts'
import { ResidualValue } from '../../src/ledger/residual-value.ts'
import type { Scenario } from '../../src/scenario/model.ts'
import { middleSet } from '../../src/simulation/parameter-sets.ts'
import { OptionPlayer } from '../../src/simulation/play-option.ts'
import { planOf, prepare } from '../../src/simulation/run.ts'
import type { Report } from './report.ts'

const STAGES = ['history', 'claims', 'repairs', 'outages', 'residual value'] as const
type Stage = (typeof STAGES)[number]
/** The least of these counts: a loaded machine only ever adds. */
const ROUNDS = 9

/**
 * What each stage of the kernel costs, warm, by the wall clock.
 *
 * @param report - takes the figures
 * @param name - of the workload
 * @param scenario - without unknowns
 * @param draws - of each option
 */
export function runStages(report: Report, name: string, scenario: Scenario, draws: number): void {
  const least: Record<Stage, number> = {
    history: Infinity,
    claims: Infinity,
    repairs: Infinity,
    outages: Infinity,
    'residual value': Infinity,
  }
  for (let round = 0; round < ROUNDS; round++) {
    const { spent, failures } = playStages(scenario, draws)
    for (const stage of STAGES) least[stage] = Math.min(least[stage], spent[stage] / failures)
  }
  for (const stage of STAGES) report.figure(`${name}: ${stage}, nanoseconds a failure`, 1e6 * least[stage], 'ns')
}

function playStages(scenario: Scenario, draws: number): { spent: Record<Stage, number>; failures: number } {
  const prepared = prepare(scenario, 1)
  const spent: Record<Stage, number> = { history: 0, claims: 0, repairs: 0, outages: 0, 'residual value': 0 }
  const time = <Result>(stage: Stage, work: () => Result): Result => {
    const from = performance.now()
    const result = work()
    spent[stage] += performance.now() - from
    return result
  }
  let failures = 0
  scenario.options.forEach((_, option) => {
    const plan = planOf(prepared, option)
    const set = plan.at(middleSet(scenario.unknowns.length), true)
    const residual = new ResidualValue(set.terms, set.dense)
    const player = new OptionPlayer(plan)
    const priced = new Priced(scenario.horizonYears)
    const tables = plan.tablesFor(set.terms)
    const { history } = player
    for (let draw = 0; draw < draws; ) {
      draw = time('history', () => player.playSome(draw, draws, set))
      failures += history.nRows
      priced.begin(history)
      const { accounts, claims } = priced
      time('claims', () => decideClaims(history, set.terms, claims))
      time('repairs', () => payRepairs(history, set.terms, claims, accounts, null, priced.bills))
      time('outages', () => priced.outages.lose(history, set.terms, tables, claims, accounts))
      time('residual value', () => residual.of(history, accounts.residual))
    }
  })
  return { spent, failures }
}
