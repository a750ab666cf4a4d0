import type { EvidenceFigure } from './figure.ts'
import { recalled } from './stated.ts'

/**
 * What one US dollar of the evidence costs in other currencies, for `prices_from_evidence: yes`: means of 2024,
 * computed from recalled euro reference rates, to three digits.
 */
export const EXCHANGE_FIGURES: readonly EvidenceFigure[] = [
  rate('EUR', 0.924),
  rate('GBP', 0.782),
  rate('CHF', 0.88),
  rate('SEK', 10.6),
  rate('NOK', 10.7),
  rate('DKK', 6.89),
  rate('PLN', 3.98),
  rate('CZK', 23.2),
  rate('AUD', 1.51),
  rate('NZD', 1.65),
  rate('CAD', 1.37),
  rate('JPY', 151),
  rate('INR', 83.7),
  rate('ZAR', 18.3),
  rate('BRL', 5.38),
  rate('MXN', 18.3),
]

function rate(currency: string, value: number): EvidenceFigure {
  return {
    row: 'common',
    key: `exchange.${currency}`,
    unit: `${currency} for one USD`,
    phrase: `one US dollar in ${currency}`,
    ...recalled(value, 'euroRates2024', 'Mean of 2024. Look up the rate of today where it matters.'),
  }
}
