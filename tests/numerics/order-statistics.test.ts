import { describe, test } from 'vitest'
import fleet from '../reference/fleet.json' with { type: 'json' }
import { expectClose } from './relative.ts'
import { meanLife, quantile, survival } from './weibull-life.ts'

describe('M7: first failures among n independent units (COMPUTED: closed forms, binomial sum)', () => {
  test.each(fleet.first_failures)('$units units of shape $shape by $time', row => {
    const one = { shape: row.shape, lifeYears: row.scale }
    // The weakest of n units is a Weibull of the same shape: superposition of hazards.
    const weakest = { shape: row.shape, lifeYears: row.first_failure_scale }
    expectClose(weakest.lifeYears, row.scale * row.units ** (-1 / row.shape), 1e-12)
    expectClose(1 - survival(row.time, one), row.prob_one_unit_failed, 1e-12)
    expectClose(row.units * (1 - survival(row.time, one)), row.expected_first_failures, 1e-12)
    expectClose(meanLife(weakest), row.mean_time_to_first_failure, 1e-9)
    expectClose(quantile(0.5, weakest), row.median_time_to_first_failure, 1e-12)
    expectClose(survival(row.time, weakest), row.prob_no_failure, 1e-12)
  })
})
