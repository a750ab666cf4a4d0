import { describe, expect, test } from 'vitest'
import type { Comparison, Verdict } from '../../src/analysis/results/comparison.ts'
import { countedWords } from '../../src/report/estimate/cost-words.ts'
import { notVaried, turnedBySentence } from '../../src/report/estimate/how-sure.ts'
import { switchSentence } from '../../src/report/estimate/sections/switch-points.ts'
import {
  batterySentence,
  breakEvenSentence,
  leaning,
  sameReliabilitySentence,
  staysCheaperSentence,
  surenessSentence,
  verdictSentence,
  verdictWords,
} from '../../src/report/estimate/verdicts.ts'
import { viewOf } from '../../src/report/estimate/view.ts'
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
      `Paying EUR 250 more for ${names.b} than for ${names.a} is too close to call: over 25 years ${names.b} is about EUR 60 cheaper on average, less than what is not known.`,
    ],
    [
      'pays back',
      -580,
      `Paying EUR 250 more for ${names.b} than for ${names.a} pays back: over 25 years it is about EUR 580 cheaper, its price included.`,
    ],
    [
      'probably pays back',
      -580,
      `Paying EUR 250 more for ${names.b} than for ${names.a} probably pays back: over 25 years it is about EUR 580 cheaper on average, its price included.`,
    ],
    [
      'probably does not pay back',
      410,
      `Paying EUR 250 more for ${names.b} than for ${names.a} probably does not pay back: over 25 years it is about EUR 410 dearer on average.`,
    ],
    [
      'does not pay back',
      410,
      `Paying EUR 250 more for ${names.b} than for ${names.a} does not pay back: over 25 years it is about EUR 410 dearer.`,
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
  const sentence = (one: Comparison) => plain(breakEvenSentence(view, one))
  test('the price at which it breaks even, its likely range, and the price it is quoted at', () => {
    expect(sentence(pair('pays back', -580))).toBe(
      'Robust string inverter (B) breaks even with Plain string inverter (A) at a price of about EUR 7,730 (likely range: EUR 7,330 to 8,130); it is quoted at EUR 7,150.',
    )
  })
  test('one that is not worth it has such a price too: this said how much less it would have to cost', () => {
    expect(sentence(pair('does not pay back', 900))).toBe(
      'Robust string inverter (B) breaks even with Plain string inverter (A) at a price of about EUR 6,250 (likely range: EUR 5,850 to 6,650); it is quoted at EUR 7,150.',
    )
  })
  test('no price is below nothing', () => {
    expect(sentence(pair('does not pay back', 7200))).toContain(
      'does not break even with Plain string inverter (A) at any price',
    )
    expect(sentence({ ...pair('does not pay back', 900), breakEvenInterval90: [-9000, 829] })).toContain(
      'EUR 0 to 7,730)',
    )
  })
  test('O7: what a battery would have to earn a day is given with what it earns', () => {
    const earning = {
      ...pair('does not pay back', 410),
      batteryWouldHaveToEarnPerDay: 1.744,
      batteryEarnsPerDay: 0.972,
    }
    const owner = {
      ...results,
      options: results.options.map(one => ({ ...one, batteryWorth: one.id === 'B' ? 'stated' : 'none' }) as const),
    }
    expect(plain(batterySentence(viewOf(owner), earning))).toBe(
      'To break even with Plain string inverter (A), the battery of Robust string inverter (B) would have to earn about EUR 1.74 a day, its outages counted. Here it is taken to earn EUR 0.97 a day on average.',
    )
  })
})

describe('U1c the same-reliability case', () => {
  test('gives the differences when better reliability is not assumed', () => {
    const with0 = pair('pays back', -580, {
      withTierEffect0: { meanDifference: 95, standardError: 4, breakEvenPremium: 155 },
    })
    expect(plain(sameReliabilitySentence(view, [with0]))).toBe(
      'If both failed alike, and only cover still differed, Robust string inverter (B) would be about EUR 95 dearer than Plain string inverter (A).',
    )
  })
  test('several pairs are in one sentence', () => {
    const without = { meanDifference: 95, standardError: 4, breakEvenPremium: 155 }
    const played = pair('pays back', -580, { withTierEffect0: without })
    expect(plain(sameReliabilitySentence(view, [played, pair('pays back', -580), played]) ?? '')).toMatch(
      /^If all failed alike, and only cover still differed, Robust .* than Plain string inverter \(A\) and Robust string inverter \(B\) about EUR 95 dearer\.$/,
    )
  })
  test('K5 names the spare where its price differs, and gives the case with spares at one price', () => {
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
      'If both failed alike, and only the price of the spare still differed, Robust string inverter (B) would be about EUR 95 dearer than Plain string inverter (A). With spares at one price too, B would be about EUR 210 cheaper than A.',
    )
  })
  test('is null where no gap was played', () => {
    expect(sameReliabilitySentence(view, [pair('pays back', -580)])).toBeNull()
  })
})

describe('sureness', () => {
  const cheaperWins = pair('does not pay back', 410, { chanceBetterOnAverage: 0.04, chanceCheaper: 0.21 })
  test('is that of the better option, whichever way round the pair is listed, with what nobody has measured', () => {
    expect(plain(staysCheaperSentence(view, cheaperWins))).toBe(
      'Plain string inverter (A) stays the cheaper of A and B in 96 of 100 sets of assumptions drawn from the ranges; 71 % of what is not known about the difference rests on judgement, figures that nobody has measured.',
    )
    expect(plain(surenessSentence(view, cheaperWins))).toContain(
      ' In a single lifetime, where luck counts too, Plain string inverter (A) is the cheaper in 79 of 100.',
    )
  })
  test('all sets played are not all that may be: this said 100 of 100', () => {
    const all = { ...cheaperWins, chanceBetterOnAverage: 0, chanceCheaper: 0 }
    expect(plain(surenessSentence(view, all))).not.toContain('100 of 100')
    expect(plain(staysCheaperSentence(view, all))).toContain('in more than 99 of 100 sets')
  })
  test('with one parameter set it says that it does not know how sure it is', () => {
    const one = viewOf({ ...results, parameterSets: 1 })
    expect(plain(surenessSentence(one, pair('pays back', -580)))).toContain(
      'the effect of what is not known is not shown',
    )
  })
  test('K4c: the figures that change the order are named; only the grade used to be given', () => {
    const turned = { ...cheaperWins, turnedBy: [{ input: 'tier effect', known: 'judgement' as const }] }
    expect(turnedBySentence(view, turned)).toEqual([
      'Within the range it was varied in, one figure alone changes which of A and B is cheaper: tier effect (judgement).',
    ])
    expect(turnedBySentence(view, cheaperWins)).toEqual([
      'Within the ranges that were varied, no single figure changes which of A and B is cheaper.',
    ])
  })
  test('K4: what was not varied is named, shade and own use among it where they have no range', () => {
    expect(notVaried(viewOf({ ...results, inputs: [] }))).toBe(
      'Not varied: warranty terms, visit policy, discount rate, shade and mismatch, conversion, how much is used at home and every other figure that is listed without a range.',
    )
  })
})

describe('S2 switch points', () => {
  const point = {
    input: 'labour per visit',
    option: null,
    unit: 'EUR',
    present: 260,
    low: 87,
    high: 780,
    halfFailBy: null,
  }
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
  const turning = { differenceThere: 1, standardError: 9, draws: 4000 }
  test('a life is said as the age by which half have failed', () => {
    const life = {
      ...point,
      ...turning,
      input: 'characteristic life (Robust string inverter)',
      option: 'B',
      unit: 'years',
    }
    const halfFailBy = { present: 16.2, value: 7.41, low: 5, high: 50 }
    expect(plain(switchSentence(view, { ...life, present: 22, value: 10, halfFailBy }))).toBe(
      'Half of the units of Robust string inverter would have to fail by year 7.41, not by year 16.2 as assumed, before Plain string inverter (A) is cheaper than Robust string inverter (B).',
    )
    expect(
      plain(switchSentence(view, { ...life, present: 22, value: 33, halfFailBy: { ...halfFailBy, value: null } })),
    ).toContain('would have to last 1.5 times as long as assumed')
  })
  test('call-outs that a warranty pays or not are no number', () => {
    const visits = {
      ...point,
      ...turning,
      input: 'call-outs under warranty (Plain string inverter)',
      option: 'A',
      unit: 'covered',
      present: 0,
      value: 1,
      low: 0,
      high: 1,
    }
    expect(plain(switchSentence(view, visits))).toBe(
      'If the warranty of Plain string inverter also paid call-outs, the order would change: Plain string inverter (A) is cheaper than Robust string inverter (B).',
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
      'Robust string inverter (B) and Plain string inverter (A) cost the same to buy: over 25 years Robust string inverter (B) is probably about EUR 410 dearer.',
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
    expect(countedWords(viewOf({ ...results, options: zero }))).toBe('purchase, repairs, call-outs and lost energy')
    const earning = zero.map(option => ({ ...option, costs: { ...option.costs, batteryEarnings: -900 } }))
    expect(countedWords(viewOf({ ...results, options: earning }))).toBe(
      'purchase, repairs, call-outs and lost energy, less what a battery earns',
    )
  })
})
