/** What a run finds when it compares two options (K). */

import type { Known } from '../../scenario/model/assumption.ts'

/** Where the spread of a figure comes from (U2, K4). */
export interface VarianceShares {
  /** When and whether things fail; null where the figure does not vary. */
  readonly chanceShare: number | null
  /** What kind of product and price this is. */
  readonly unknownShare: number | null
  /** Share of `unknownShare` that rests on judgement, [0, 1]; null with nothing ±, and with too few sets for the inputs. */
  readonly judgementShare: number | null
}

/** The verdicts of a comparison (K3). */
export type Verdict =
  | 'no difference worth naming'
  | 'too close to call'
  | 'pays back'
  | 'probably pays back'
  | 'probably does not pay back'
  | 'does not pay back'

/** A difference if tiers did not differ in reliability (U1c, K5). */
export interface NullCase {
  readonly meanDifference: number
  readonly standardError: number
  readonly breakEvenPremium: number
}

/** A pair of options (K2, K3); `option` is the dearer to buy. */
export interface Comparison {
  readonly option: string
  readonly against: string
  /** mean(option) − mean(against); below 0 favours `option`. */
  readonly meanDifference: number
  readonly standardError: number
  readonly interval90: readonly [number, number]
  readonly chanceBetterOnAverage: number
  readonly chanceCheaper: number
  readonly breakEvenPremium: number
  readonly breakEvenInterval90: readonly [number, number]
  /** null: the two do not do the same job (O7, C8). */
  readonly verdict: Verdict | null
  readonly aheadFromYear: number | null
  /**
   * What the battery of one of the two would have to earn a day for both to cost the same, outages included (O7); below
   * 0: the option with it is cheaper even so; null: both or neither has one.
   */
  readonly batteryWouldHaveToEarnPerDay: number | null
  /** What it earns a day, on average and less its outages, on the same scale (O7); null: not known, or as above. */
  readonly batteryEarnsPerDay: number | null
  readonly varianceShares: VarianceShares
  /** The worst grade among the inputs whose 10 % to 90 % range alone reverses the sign of the difference (K4); null: none does. */
  readonly verdictGrade: Known | null
  /** These inputs, as `UnknownInput.label`, the worst known first (K4). */
  readonly turnedBy: readonly { readonly input: string; readonly known: Known }[]
  /** The verdict with judged ranges 1.5 times as wide, with the ordinary one from the same draws (K4); null: nothing judged is drawn. */
  readonly wideRun: {
    readonly draws: number
    readonly verdict: Verdict | null
    readonly ordinaryVerdict: Verdict | null
    readonly meanDifference: number
    readonly standardError: number
    readonly chanceBetterOnAverage: number
  } | null
  /** The same difference with tier effect 0 (same reliability); null where no tier gap is played. */
  readonly withTierEffect0: NullCase | null
  /** The same with the parts of all string inverters of a tier at one price too, that of the plainest (K5). */
  readonly withTierEffect0AndSpareAlike: NullCase | null
}
