import { EVIDENCE_CURRENCY, type EvidenceFigure } from '../../evidence/figure.ts'
import { findFigure } from '../../evidence/index.ts'
import type { GivenScenario } from '../schema/scenario.ts'
import type { Draft } from '../schema/walk.ts'
import type { Resolution } from './resolution.ts'

/** Currency of a scenario that names none. */
export const DEFAULT_CURRENCY = 'EUR'

/** The factor on prices of the evidence, and the figure it comes from; null where the user wrote it. */
export interface PriceFactor {
  readonly factor: number
  readonly figure: EvidenceFigure | null
}

/**
 * The factor from the currency of the evidence to that of the scenario.
 *
 * @param given - the scenario as far as it could be read
 * @returns null where no price is taken from evidence, or the evidence does not know the currency
 */
export function priceFactor(given: Draft<GivenScenario>): PriceFactor | null {
  const wish = given.prices_from_evidence
  if (wish === undefined) return null
  if (wish !== true) return wish.factor === undefined ? null : { factor: wish.factor, figure: null }
  const currency = given.currency ?? DEFAULT_CURRENCY
  if (currency === EVIDENCE_CURRENCY) return { factor: 1, figure: null }
  const figure = findFigure(null, `exchange.${currency}`)
  return figure === null ? null : { factor: figure.value, figure }
}

/** Lists the factor with its source. */
export function completeFactor(given: GivenScenario, resolution: Resolution): void {
  const found = priceFactor(given)
  if (found === null || given.currency === EVIDENCE_CURRENCY) return
  const { factor, figure } = found
  resolution.value({
    key: 'prices_from_evidence.factor',
    given: figure === null ? factor : undefined,
    filling: figure === null ? { choice: factor, remark: '' } : { figure, remark: figure.remark },
  })
}
