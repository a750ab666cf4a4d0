import { describe, expect, test } from 'vitest'
import { coverage } from '../fitting/register/coverage.ts'
import { LONG, TIMES } from './fuzz-run.ts'

/** Places of a register; LIFETALLY_FUZZ=25 makes it 5,000. */
const N_PLACES = Math.round(200 * TIMES)

const SEEDS = 28

describe('N5 from two files with the errors of real ones to the truth', () => {
  test('the truth lies in the 90 % interval in about nine of ten registers, and no ticket is lost', LONG, async () => {
    const { misplaced, seeds, ...held } = await coverage(SEEDS, N_PLACES)
    expect(seeds).toBe(SEEDS)
    expect(misplaced).toBe(0)
    // Of 28 right intervals at 90 %, fewer than 21 hold the truth once in 200 times.
    for (const [figure, count] of Object.entries(held)) expect(count, figure).toBeGreaterThanOrEqual(21)
  })
})
