import fc from 'fast-check'
import { expect, test } from 'vitest'
import { TermSteps } from '../../src/ledger/sweep/term-steps.ts'

/** Steps of one lifetime after another: term, what is paid more, what is lost more. */
const lifetimes = fc.integer({ min: 1, max: 63 }).chain(terms =>
  fc.record({
    terms: fc.constant(terms),
    steps: fc.array(
      fc.array(
        fc.tuple(
          fc.integer({ min: 0, max: terms - 1 }),
          fc.integer({ min: -9, max: 9 }),
          fc.integer({ min: -9, max: 9 }),
        ),
        { maxLength: 12 },
      ),
      { minLength: 1, maxLength: 4 },
    ),
  }),
)

test('V1: steps add up by term, are found from any term on in order, and are gone after clear', () => {
  fc.assert(
    fc.property(lifetimes, ({ terms, steps }) => {
      const walked = new TermSteps(terms)
      for (const [i, lifetime] of steps.entries()) {
        if (i > 0) walked.clear()
        const [paid, lost] = [new Float64Array(terms), new Float64Array(terms)]
        const touched = new Set<number>()
        for (const [term, more, energy] of lifetime) {
          walked.add(term, more, energy)
          paid[term] = (paid[term] ?? 0) + more
          lost[term] = (lost[term] ?? 0) + energy
          touched.add(term)
        }
        expect(walked.paid).toEqual(paid)
        expect(walked.lost).toEqual(lost)
        for (let from = 0; from <= terms; from++)
          expect(walked.next(from)).toBe([...touched].sort((a, b) => a - b).find(term => term >= from) ?? -1)
      }
    }),
    { seed: 20_270_301, numRuns: 300 },
  )
})
