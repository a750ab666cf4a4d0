import type { KeyPath, SourceValue } from '../../input/problems.ts'
import type { Flaw } from '../schema/walk.ts'

/** Keys of money and of a year's energy: three digits behind their point are hardly ever meant as decimals. */
const KEYS: ReadonlySet<string> = new Set([
  'upfront_cost',
  'yearly_cost',
  'price',
  'cost',
  'parts',
  'labour',
  'labour_each_further',
  'call_out',
  'roof_access',
  'surcharge',
  'opening',
  'annual_kwh',
  'monthly_kwh',
])

/**
 * Finds sums of money and kWh written with a point between thousands: 10.900 is read as 10.9, which can reverse a
 * verdict without an error.
 *
 * @param source - as parsed
 * @returns one flaw a number
 */
export function thousandsPoints({ threeDecimals = [] }: SourceValue): Flaw[] {
  return threeDecimals.flatMap(({ path, written }) => {
    const words = path.filter((step): step is string => typeof step === 'string' && !/^(low|high|value)$/.test(step))
    if (!KEYS.has(words.at(-1) ?? '') || words.at(-2) === 'warranty') return []
    const message = `found ${written}; write ${written.replace('.', '')} if the point separates thousands, else ${Number(written)}`
    return [{ path: path as KeyPath, message }]
  })
}
