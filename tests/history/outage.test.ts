import { describe, expect, test } from 'vitest'
import type { Block, Life, Row } from '../worlds.ts'
import { days, failsAt, livesOf, NEVER, option, single, unit, world } from '../worlds.ts'

/** Rows of one population, in order of time. */
const rowsOf = (life: Life | undefined, place: number): Row[] =>
  (life?.rows ?? []).filter(row => row.place === place && row.failedAt < 20)
/** Days between two moments. */
const daysFrom = (from: number, to: number): number => (to - from) * 365

describe('O1, O2: how long a unit is down', () => {
  test('O1: downtime is detection, response and repair', () => {
    const one = single({ failure: failsAt(6), downtime: { detect_days: 3, respond_days: 10, repair_days: 2 } })
    for (const row of rowsOf(livesOf(world([one]), 1)[0], 0)) {
      expect(daysFrom(row.failedAt, row.detectedAt)).toBeCloseTo(3, 8)
      expect(daysFrom(row.failedAt, row.returnedAt)).toBeCloseTo(15, 8)
    }
  })

  test('O1: a lognormal delay has the median and p90 given', () => {
    const one = single({ failure: failsAt(1), downtime: { respond_days: { median: 10, p90: 35 } } })
    const delays = livesOf(world([one]), 400).flatMap(life =>
      rowsOf(life, 0).map(row => daysFrom(row.detectedAt, row.returnedAt)),
    )
    const under = (limit: number) => delays.filter(delay => delay < limit).length
    const within = (count: number, share: number) =>
      Math.abs(count - share * delays.length) / Math.sqrt(delays.length * share * (1 - share))
    expect(delays.length).toBeGreaterThan(6000)
    expect(within(under(10), 0.5)).toBeLessThan(4.5)
    expect(within(under(35), 0.9)).toBeLessThan(4.5)
  })

  test('O2: without monitoring detection takes the unmonitored time', () => {
    const downtime = { detect_days: 3, detect_days_unmonitored: 45 }
    const one = (monitoring: string) => single({ failure: failsAt(6), downtime }, { monitoring })
    const delay = (monitoring: string) =>
      rowsOf(livesOf(world([one(monitoring)]), 1)[0], 0).map(row => daysFrom(row.failedAt, row.detectedAt))
    expect(delay('built-in').every(d => Math.abs(d - 3) < 1e-6)).toBe(true)
    expect(delay('none').every(d => Math.abs(d - 45) < 1e-6)).toBe(true)
  })

  /** An inverter that fails after 6 years and a gateway that has failed 100 days before. */
  const watched = (gateway: Block, extra: readonly Block[] = []) =>
    option('W', 'string', [
      unit('string-inverter', { failure: failsAt(6), downtime: { detect_days: 3, detect_days_unmonitored: 90 } }),
      unit('gateway', { failure: failsAt(6 - days(100)), ...gateway }),
      ...extra,
    ])

  test('O2: the detection of an unnoticed failure ends at the return of the gateway and the monitored time, if that is earlier', () => {
    const soon = livesOf(world([watched({ downtime: { detect_days: 30, respond_days: 90 } })]), 1)[0]
    const [gateway] = rowsOf(soon, 1)
    const [inverter] = rowsOf(soon, 0)
    expect(daysFrom(gateway?.failedAt ?? 0, gateway?.returnedAt ?? 0)).toBeCloseTo(120, 6)
    expect(inverter?.detectedAt).toBeCloseTo((gateway?.returnedAt ?? 0) + days(3), 9)
    const late = livesOf(world([watched({ downtime: { detect_days: 300, respond_days: 90 } })]), 1)[0]
    expect(daysFrom(rowsOf(late, 0)[0]?.failedAt ?? 0, rowsOf(late, 0)[0]?.detectedAt ?? 0)).toBeCloseTo(90, 6)
  })

  test('O2: with several gateways monitoring works while one works', () => {
    const life = livesOf(world([watched({ downtime: { detect_days: 300 } }, [unit('gateway')])]), 1)[0]
    const [inverter] = rowsOf(life, 0)
    expect(daysFrom(inverter?.failedAt ?? 0, inverter?.detectedAt ?? 0)).toBeCloseTo(3, 6)
  })

  test('O2: a gateway needs no visit unless the scenario says so', () => {
    const visitOf = (gateway: Block) => rowsOf(livesOf(world([watched(gateway)]), 1)[0], 1)[0]?.visit
    expect(visitOf({})).toBe(-1)
    expect(visitOf({ needs_visit: true })).toBeGreaterThanOrEqual(0)
  })
})

describe('O3: visits that wait', () => {
  const panels = (policy: Block, extra: readonly Block[] = [], over: Block = {}) =>
    world(
      [
        option(
          'P',
          'panel-level',
          [
            unit('panel-level-unit', {
              count: 1,
              failure: failsAt(30),
            }),
            ...[3, 3.2, 3.4].map(age =>
              unit('panel-level-unit', {
                count: 2,
                age_years: 0,
                failure: failsAt(age),
                downtime: { detect_days: 5, respond_days: 20, repair_days: 1 },
                ...over,
              }),
            ),
            ...extra,
          ],
          { visit_policy: policy },
        ),
      ],
      { horizon_years: 5 },
    )
  const downFirst = (life: Life | undefined, place: number) => rowsOf(life, place).filter(row => row.before < 0)

  test('a visit is called when the list is full; it comes one response later and repairs all that are down', () => {
    // two units at 3, two at 3.2: the third on the list calls
    const life = livesOf(panels({ wait_for_units: 3, wait_at_most_days: 3000 }), 1)[0]
    const waiting = [...downFirst(life, 1), ...downFirst(life, 2)].sort((a, b) => a.detectedAt - b.detectedAt)
    const called = waiting[2]?.detectedAt ?? 0
    expect(waiting).toHaveLength(4)
    expect(new Set(waiting.map(row => row.visit)).size).toBe(1)
    for (const row of waiting) expect(row.returnedAt).toBeCloseTo(called + days(21), 9)
  })

  test('the oldest entry waits no longer than wait_at_most_days', () => {
    const life = livesOf(panels({ wait_for_units: 50, wait_at_most_days: 30 }), 1)[0]
    const [one, two] = downFirst(life, 1)
    const oldest = Math.min(one?.detectedAt ?? 0, two?.detectedAt ?? 0)
    expect(one?.returnedAt).toBeCloseTo(oldest + days(30 + 20 + 1), 9)
    expect(two?.visit).toBe(one?.visit)
  })

  test('a population of one calls at its own detection; the visit repairs the others too, detected or not', () => {
    const alone = unit('panel-level-unit', {
      count: 1,
      failure: failsAt(3.1),
      downtime: { detect_days: 1, respond_days: 38 },
    })
    const life = livesOf(
      panels({ wait_for_units: 50, wait_at_most_days: 3000 }, [alone], {
        downtime: { detect_days: 36, respond_days: 20, repair_days: 4 },
      }),
      1,
    )[0]
    const [caller] = downFirst(life, 4)
    const arrival = (caller?.detectedAt ?? 0) + days(38)
    const found = [...downFirst(life, 1), ...downFirst(life, 2)]
    expect(found).toHaveLength(4)
    // the units of 3.2 years fail within two days of the arrival: those that are down by then are found by it
    for (const row of found.filter(one => one.failedAt < arrival)) {
      expect(row.visit).toBe(caller?.visit)
      expect(row.detectedAt).toBeLessThanOrEqual(arrival + 1e-12)
      expect(row.returnedAt).toBeCloseTo(arrival + days(4), 9)
    }
    expect(caller?.returnedAt).toBeCloseTo(arrival + days(4), 9)
  })

  test('O3: a failure that takes its string down calls a visit at its own detection', () => {
    const optimisers = (takesStringDown: number) =>
      world(
        [
          option(
            'O',
            'string-optimisers',
            [
              unit('string-inverter'),
              unit('optimiser', {
                count: 4,
                failure: failsAt(3),
                takes_string_down: takesStringDown,
                downtime: { detect_days: 5, respond_days: 20, repair_days: 1 },
              }),
            ],
            { visit_policy: { wait_for_units: 50, wait_at_most_days: 300 } },
          ),
        ],
        { horizon_years: 5 },
      )
    const waits = (takesStringDown: number) => {
      const rows = downFirst(livesOf(optimisers(takesStringDown), 1)[0], 1)
      const oldest = Math.min(...rows.map(row => row.detectedAt))
      return daysFrom(oldest, rows[0]?.returnedAt ?? 0)
    }
    expect(waits(0)).toBeCloseTo(300 + 21, 6)
    expect(waits(1)).toBeCloseTo(21, 6)
  })

  test('O3, O4: every failure of a DC isolator takes its string down and calls a visit at once', () => {
    const blocks = world(
      [
        option(
          'I',
          'string-optimisers',
          [
            unit('string-inverter', { strings: 2 }),
            unit('optimiser', { count: 4, failure: failsAt(2.99) }),
            unit('dc-isolator', { count: 2, failure: failsAt(3), downtime: { detect_days: 2, respond_days: 20 } }),
          ],
          { visit_policy: { wait_for_units: 50, wait_at_most_days: 3000 } },
        ),
      ],
      { horizon_years: 5 },
    )
    const life = livesOf(blocks, 1)[0]
    const isolators = downFirst(life, 2)
    expect(isolators.map(row => row.takesString)).toEqual([1, 1])
    expect(isolators.map(row => row.string).sort()).toEqual([0, 1])
    const called = Math.min(...isolators.map(row => row.detectedAt))
    expect(isolators[0]?.returnedAt).toBeCloseTo(called + days(20), 6)
    for (const row of downFirst(life, 1)) expect(row.visit).toBe(isolators[0]?.visit)
  })

  test('units that need no visit are left alone and return after their own downtime', () => {
    const gateway = unit('gateway', { failure: failsAt(3.05), downtime: { detect_days: 7, respond_days: 4 } })
    const life = livesOf(panels({ wait_for_units: 2, wait_at_most_days: 3000 }, [gateway]), 1)[0]
    const [row] = downFirst(life, 4)
    expect(row?.visit).toBe(-1)
    expect(daysFrom(row?.failedAt ?? 0, row?.returnedAt ?? 0)).toBeCloseTo(11, 6)
  })

  test('without a policy each failure has a visit of its own', () => {
    const blocks = world([option('P', 'panel-level', [unit('panel-level-unit', { count: 5, failure: failsAt(3) })])], {
      horizon_years: 5,
    })
    const rows = rowsOf(livesOf(blocks, 1)[0], 0)
    expect(rows).toHaveLength(5)
    expect(new Set(rows.map(row => row.visit)).size).toBe(5)
  })
})

describe('M5, M6: ageing and planned replacement', () => {
  test('M5: a unit does not age while it is down', () => {
    const one = single({ failure: failsAt(4), downtime: { respond_days: 365 } })
    const rows = rowsOf(livesOf(world([one]), 1)[0], 0)
    expect(rows.map(row => Math.round(row.failedAt * 10) / 10)).toEqual([4, 9, 14, 19])
    const repaired = single({
      failure: failsAt(4),
      downtime: { respond_days: 365 },
      restore: { repair: { renews: 1, parts: 1, labour: 1 } },
    })
    const lives = rowsOf(livesOf(world([repaired]), 1)[0], 0)
    expect(lives.map(row => Math.round(row.failedAt * 10) / 10)).toEqual([4, 9, 14, 19])
  })

  test('M6: age in service counts no downtime and takes no repair off; planned swaps are down for repair_days only', () => {
    const one = single({
      failure: failsAt(4),
      downtime: { detect_days: 65, respond_days: 200, repair_days: 100 },
      restore: { repair: { renews: 1, parts: 1, labour: 1 } },
      replace_at_age_years: 6,
    })
    const rows = rowsOf(livesOf(world([one]), 1)[0], 0)
    // 4 in service, 1 down, 2 more in service: swapped at 7
    expect(rows.slice(0, 3).map(row => row.action)).toEqual([1, 2, 1])
    expect(rows[1]?.failedAt).toBeCloseTo(7, 9)
    expect(daysFrom(rows[1]?.failedAt ?? 0, rows[1]?.returnedAt ?? 0)).toBeCloseTo(100, 8)
    expect(rows[2]?.failedAt).toBeCloseTo(7 + days(100) + 4, 1)
  })

  test('M6: a unit over the age is replaced at the start; all due at one moment share a visit', () => {
    const old = (age: number, repair: number) =>
      unit('string-inverter', {
        count: 2,
        age_years: age,
        replace_at_age_years: 10,
        failure: NEVER,
        downtime: { repair_days: repair },
      })
    const rows =
      livesOf(world([option('O', 'string', [old(10, 1), old(14, 3)])], { horizon_years: 5 }), 1)[0]?.rows ?? []
    expect(rows).toHaveLength(4)
    expect(rows.every(row => row.failedAt === 0 && row.action === 2)).toBe(true)
    expect(new Set(rows.map(row => row.visit)).size).toBe(1)
    for (const row of rows) expect(row.returnedAt).toBeCloseTo(days(3), 12)
  })
})
