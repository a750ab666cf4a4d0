import type { RoofFindings } from '../../energy/roof-findings.ts'
import { figureOf } from '../../evidence/index.ts'
import { formatNumber } from '../format/number.ts'
import { formatShare } from '../format/share.ts'
import type { View } from './view.ts'

const LIGHT: Readonly<Record<RoofFindings['light'], string>> = {
  'hourly file': 'an hourly file',
  'monthly light': 'twelve monthly figures of light, spread over clear and dull days',
  'typical climate': 'a typical climate, not this place',
}

/**
 * How well the energy of the roof is known, by what the scenario states of it (E1, E7).
 *
 * @param view - prepared results
 * @returns a sentence, with the accuracy of the evidence where there is one
 */
export function roofKnown(view: View): string {
  const { roof, inputs, notes } = view.results
  if (roof !== null) {
    const accuracy = formatShare(roof.accuracyShare, view.locale)
    return `The light comes from ${LIGHT[roof.light]}; the energy of a year is known to about ${accuracy}.`
  }
  const states = (key: string): boolean => inputs.some(input => input.key === `site.generation.${key}`)
  if (states('hourly_csv')) return 'The energy comes from an hourly year of the roof and is as good as that file.'
  if (!states('annual_kwh')) return 'The energy comes from twelve stated months and is as good as their quote.'
  const points = formatNumber(100 * figureOf(null, 'roof.accuracy.month_share').value, 0.1, view.locale)
  const months = notes.some(note => note.code === 'months-usual')
    ? 'its months are those of a typical climate, not of this place.'
    : `the share of each month is known to about ${points} percentage points.`
  return `The energy comes from one stated figure a year and is as good as its quote; ${months}`
}
