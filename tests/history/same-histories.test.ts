import { describe, expect, test } from 'vitest'
import { CLAIM, NUMBERS } from '../../src/history/rows.ts'
import { middleSet } from '../../src/simulation/parameter-sets.ts'
import { OptionPlayer } from '../../src/simulation/play-option.ts'
import { planOf, prepare } from '../../src/simulation/run.ts'
import { type Block, livesOf, option, put, read, single, unit, weibull, world } from '../worlds.ts'

const DOWN = {
  detect_days: { median: 5, p90: 30 },
  detect_days_unmonitored: { median: 60, p90: 300 },
  respond_days: { median: 20, p90: 60 },
  repair_days: 0.2,
}
const BATCH = { chance: 0.5, affects: 0.4, life_times: 0.3 }

/** Options in which every rule of chance applies. */
const PLAYABLE: readonly [string, Block][] = [
  ['one inverter', single({ failure: weibull(1.2, 4), downtime: DOWN })],
  [
    'aged units of a bad batch',
    single({ count: 6, age_years: 5, failure: weibull(2, 9, { bad_batch: BATCH }), downtime: DOWN }),
  ],
  [
    'several modes, repaired',
    single({
      count: 3,
      downtime: DOWN,
      failure: {
        modes: [
          { cause: 'a', susceptible: 0.3, shape: 0.7, characteristic_life_years: 1 },
          { cause: 'b', shape: 2, characteristic_life_years: 6 },
        ],
        model_spread: 0,
        bad_batch: BATCH,
      },
      restore: { repair: { renews: 0.5, parts: 1, labour: 1, at_most: 2 } },
    }),
  ],
  [
    'watched by gateways',
    option('G', 'panel-level', [
      unit('panel-level-unit', { count: 12, failure: weibull(1.5, 8), downtime: DOWN }),
      unit('gateway', { count: 2, failure: weibull(1, 2), downtime: { ...DOWN, respond_days: 200 } }),
    ]),
  ],
  [
    'optimisers on strings',
    option('S', 'string-optimisers', [
      unit('string-inverter', { strings: 3, failure: weibull(2, 12), downtime: DOWN }),
      unit('optimiser', { count: 10, failure: weibull(1, 10), downtime: DOWN, takes_string_down: 0.4 }),
    ]),
  ],
]

const WAITING = option(
  'W',
  'panel-level',
  [unit('panel-level-unit', { count: 12, failure: weibull(1.5, 8), downtime: DOWN }), unit('gateway')],
  { visit_policy: { wait_for_units: 2, wait_at_most_days: 300 } },
)

describe('K1: a history does not depend on how it is played', () => {
  test.each([...PLAYABLE, ['units that wait for a visit', WAITING] as const])(
    'alone or side by side with others: %s',
    (_, blocks) => {
      const draws = 60
      const scenario = read(world([blocks]))
      const plan = planOf(prepare(scenario, 7), 0)
      const set = plan.at(middleSet(scenario.unknowns.length))
      const player = new OptionPlayer(plan)
      player.clear()
      for (let draw = 0; draw < draws; draw++) {
        player.strike(draw, set)
        player.take(draw)
      }
      player.play(set)
      const together = player.history.rows.flatMap((rows, place) =>
        Array.from({ length: rows.n }, (_row, row) =>
          [
            rows.lane[row],
            place,
            rows.failedAt[row],
            rows.numbers[NUMBERS * row + CLAIM],
            rows.action[row],
            rows.string[row],
          ].join(' '),
        ),
      )
      const alone = livesOf(world([blocks]), draws, 0, 7).flatMap(({ rows }, draw) =>
        rows.map(row => [draw, row.place, row.failedAt, row.claim, row.action, row.string].join(' ')),
      )
      expect(together.sort()).toEqual(alone.sort())
      expect(alone.length).toBeGreaterThan(50)
    },
  )

  test('prices and terms change no history', () => {
    const cheap = world([PLAYABLE[1]?.[1] ?? {}])
    const dear = put(cheap, { discount_rate: 0.08, visit: { call_out: 900 } })
    const terms = world([put(PLAYABLE[1]?.[1] ?? {}, { upfront_cost: 1, yearly_cost: 77 })])
    expect(livesOf(dear, 30)).toEqual(livesOf(cheap, 30))
    expect(livesOf(terms, 30)).toEqual(livesOf(cheap, 30))
  })

  test('a planned replacement changes no failure before it', () => {
    const plain = single({ count: 4, failure: weibull(2, 9), downtime: DOWN })
    const planned = single({ count: 4, failure: weibull(2, 9), downtime: DOWN, replace_at_age_years: 8 })
    const early = (blocks: Block) =>
      livesOf(world([blocks]), 40).map(({ rows }) => rows.filter(row => row.failedAt < 8).map(row => row.failedAt))
    expect(early(planned)).toEqual(early(plain))
  })

  test('options of the same names keep their lives in any order; renaming changes them', () => {
    const [a, b] = [single({ failure: weibull(2, 9) }, {}, 'A'), single({ failure: weibull(2, 9) }, {}, 'B')]
    const rows = (blocks: Block, place: number) => livesOf(blocks, 20, place).map(life => life.rows)
    expect(rows(world([b, a]), 1)).toEqual(rows(world([a]), 0))
    const dates = (blocks: Block) => livesOf(blocks, 20).map(({ rows }) => rows.map(row => row.failedAt))
    expect(dates(world([a]))).not.toEqual(dates(world([b])))
  })
})
