import { describe, expect, test } from 'vitest'
import type { Comparison, Verdict } from '../../src/analysis/results/comparison.ts'
import { countedWords } from '../../src/report/cost-words.ts'
import { switchSentence } from '../../src/report/sections/what-would-change.ts'
import {
  breakEvenSentence,
  leaning,
  sameReliabilitySentence,
  surenessSentence,
  verdictSentence,
  verdictWords,
} from '../../src/report/verdicts.ts'
import { viewOf } from '../../src/report/view.ts'
import type { Assumption } from '../../src/scenario/model/assumption.ts'
import { homeResults, pairOf } from './fixture.ts'

const plain = (text: string | null): string => (text ?? 'null').replace(/\u00a0/g, ' ')
const results = homeResults()
const view = viewOf(results)
const [a, b] = [view.option('A'), view.option('B')]

function pair(verdict: Verdict, meanDifference: number, more: Partial<Comparison> = {}): Comparison {
  return pairOf(b, a, {
    verdict,
    meanDifference,
    breakEvenPremium: 250 - meanDifference,
    breakEvenInterval90: [250 - meanDifference - 400, 250 - meanDifference + 400],
    ...more,
  })
}

describe('K3 verdict sentences', () => {
  const names = { b: 'Robust string inverter (B)', a: 'Plain string inverter (A)' }
  test.each<[Verdict, number, string]>([
    [
      'no difference worth naming',
      -30,
      `${names.b} and ${names.a} cost the same over 25 years as far as anyone can tell: the difference is about EUR 30, under 1 % of either.`,
    ],
    [
      'too close to call',
      -60,
      `Paying EUR 250 more for ${names.b} than for ${names.a} is too close to call: over 25 years ${names.b} comes out about EUR 60 cheaper on average, less than what is not known.`,
    ],
    [
      'pays back',
      -580,
      `Paying EUR 250 more for ${names.b} than for ${names.a} pays back: over 25 years it comes out about EUR 580 cheaper, its price included.`,
    ],
    [
      'probably pays back',
      -580,
      `Paying EUR 250 more for ${names.b} than for ${names.a} probably pays back: over 25 years it comes out about EUR 580 cheaper on average, its price included.`,
    ],
    [
      'probably does not pay back',
      410,
      `Paying EUR 250 more for ${names.b} than for ${names.a} probably does not pay back: over 25 years it comes out about EUR 410 dearer on average.`,
    ],
    [
      'does not pay back',
      410,
      `Paying EUR 250 more for ${names.b} than for ${names.a} does not pay back: over 25 years it comes out about EUR 410 dearer.`,
    ],
  ])('%s', (verdict, difference, sentence) => {
    expect(plain(verdictSentence(view, pair(verdict, difference)))).toBe(sentence)
  })
  test('every verdict leans one way or is open', () => {
    expect(leaning('pays back')).toBe('for')
    expect(leaning('probably does not pay back')).toBe('against')
    expect(leaning('no difference worth naming')).toBe('open')
  })
})

describe('K2 break-even', () => {
  test('a premium above zero is what the dearer option is worth more', () => {
    expect(plain(breakEvenSentence(view, pair('pays back', -580)))).toBe(
      'Robust string inverter (B) is worth about EUR 830 more than Plain string inverter (A) (likely range: EUR 430 to 1,230 more); it is quoted at EUR 250 more.',
    )
  })
  test('a likely range on both sides of zero says which way each end goes, without a minus sign', () => {
    expect(plain(breakEvenSentence(view, { ...pair('pays back', -580), breakEvenInterval90: [-270, 829] }))).toContain(
      '(likely range: EUR 270 less to EUR 830 more)',
    )
  })
  test('below zero it is not worth it even at the cheaper price', () => {
    expect(plain(breakEvenSentence(view, pair('does not pay back', 900)))).toContain(
      'is not worth it even at the price of Plain string inverter (A): to come out even it would have to cost about EUR 650 less',
    )
  })
})

describe('U1c the same-reliability case', () => {
  test('says what stays when better reliability is not assumed', () => {
    const with0 = pair('pays back', -580, {
      withTierEffect0: { meanDifference: 95, standardError: 4, breakEvenPremium: 155 },
    })
    expect(plain(sameReliabilitySentence(view, [with0]))).toBe(
      'If both failed alike, and only cover still differed, Robust string inverter (B) would come out about EUR 95 dearer than Plain string inverter (A).',
    )
  })
  test('several pairs are said in one breath', () => {
    const without = { meanDifference: 95, standardError: 4, breakEvenPremium: 155 }
    const played = pair('pays back', -580, { withTierEffect0: without })
    expect(plain(sameReliabilitySentence(view, [played, pair('pays back', -580), played]) ?? '')).toMatch(
      /^If all failed alike, and only cover still differed, .* \(A\) and Robust .* than Plain string inverter \(A\)\.$/,
    )
  })
  test('K5 names the spare where its price differs, and says the case with spares at one price', () => {
    const home = homeResults()
    const parts = (name: string, value: number): Assumption => ({
      key: `${name} / string-inverter / replacement.parts`,
      value,
      low: null,
      high: null,
      unit: 'EUR',
      source: 'your scenario',
      known: 'yours',
      weakest: null,
    })
    const names = home.options.map(({ name }) => name)
    const inputs = [parts(names[0] ?? '', 900), parts(names[1] ?? '', 1400)]
    const played = pair('pays back', -580, {
      withTierEffect0: { meanDifference: 95, standardError: 4, breakEvenPremium: 155 },
      withTierEffect0AndSpareAlike: { meanDifference: -210, standardError: 4, breakEvenPremium: 460 },
    })
    expect(plain(sameReliabilitySentence(viewOf({ ...home, inputs }), [played]) ?? '')).toBe(
      'If both failed alike, and only the price of the spare still differed, Robust string inverter (B) would come out about EUR 95 dearer than Plain string inverter (A). With spares at one price too, Robust string inverter (B) would come out about EUR 210 cheaper than Plain string inverter (A).',
    )
  })
  test('is null where no gap was played', () => {
    expect(sameReliabilitySentence(view, [pair('pays back', -580)])).toBeNull()
  })
})

describe('sureness', () => {
  test('is told of the better option, whichever way round the pair is listed', () => {
    const cheaperWins = pair('does not pay back', 410, { chanceBetterOnAverage: 0.04, chanceCheaper: 0.21 })
    expect(plain(surenessSentence(view, cheaperWins, a))).toBe(
      'Plain string inverter (A) stays the cheaper in 96 of 100 sets of assumptions drawn from the ranges; in a single lifetime, where luck counts too, in 79 of 100.',
    )
  })
  test('with one parameter set it does not pretend to know how sure it is', () => {
    const one = viewOf({ ...results, parameterSets: 1 })
    expect(plain(surenessSentence(one, pair('pays back', -580), b))).toContain('what is not known does not show')
  })
})

describe('S2 switch points', () => {
  const point = { input: 'labour per visit', option: null, unit: 'EUR', present: 260, low: 87, high: 780 }
  test('above the present value', () => {
    expect(
      plain(switchSentence(view, { ...point, value: 410, differenceThere: 1, standardError: 9, draws: 4000 })),
    ).toBe(
      'Labour per visit would have to rise from EUR 260 to over EUR 410 before Plain string inverter (A) is cheaper than Robust string inverter (B).',
    )
  })
  test('below the present value', () => {
    expect(
      plain(switchSentence(view, { ...point, value: 120, differenceThere: 1, standardError: 9, draws: 4000 })),
    ).toBe(
      'Labour per visit would have to fall from EUR 260 to below EUR 120 before Plain string inverter (A) is cheaper than Robust string inverter (B).',
    )
  })
  test('none within the range tried', () => {
    expect(
      plain(switchSentence(view, { ...point, value: null, differenceThere: null, standardError: null, draws: null })),
    ).toBe('Labour per visit: none within the range tried, EUR 87 to 780.')
  })
})

describe('K3 at the same price', () => {
  const sameToBuy = {
    ...results,
    options: results.options.map(option => ({ ...option, costs: { ...option.costs, upfront: 7000 } })),
  }
  const there = viewOf(sameToBuy)
  test('no extra price is said to pay back or not', () => {
    expect(plain(verdictSentence(there, pair('probably does not pay back', 410)))).toBe(
      'Robust string inverter (B) and Plain string inverter (A) cost the same to buy: over 25 years Robust string inverter (B) probably comes out about EUR 410 dearer.',
    )
    expect(verdictWords(there, pair('pays back', -410))).toBe('cheaper over its life')
    expect(verdictWords(view, pair('pays back', -410))).toBe('pays back')
  })
})

describe('C7 what a lifetime cost is said to hold', () => {
  test('battery earnings and later purchases are named only where an option has them', () => {
    const zero = results.options.map(option => ({
      ...option,
      costs: { ...option.costs, batteryEarnings: 0, later: 0 },
    }))
    expect(countedWords(viewOf({ ...results, options: zero }))).toBe(
      'purchase, repairs, call-outs and lost energy counted',
    )
    const earning = zero.map(option => ({ ...option, costs: { ...option.costs, batteryEarnings: -900 } }))
    expect(countedWords(viewOf({ ...results, options: earning }))).toBe(
      'purchase, repairs, call-outs, lost energy and battery earnings counted',
    )
  })
})
