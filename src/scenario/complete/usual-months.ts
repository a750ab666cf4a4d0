import { figureOf } from '../../evidence/index.ts'
import { monthShares } from '../../evidence/month-profile.ts'
import type { GivenScenario } from '../schema/scenario.ts'
import type { Resolution } from './resolution.ts'

/**
 * The months of a year's energy where only its sum is known: the profile of the latitude; without one, of a
 * latitude where the climate given occurs; without either a temperate one, north of the equator.
 *
 * @param given - the scenario as written, without problems
 * @param resolution - takes the note and the figures read
 * @returns twelve shares from January, sum 1
 */
export function usualMonths(given: GivenScenario, resolution: Resolution): number[] {
  const { latitude, climate } = given.site.location ?? {}
  const error = Math.round(1000 * figureOf(null, 'roof.accuracy.month_share').value) / 10
  if (climate !== undefined) resolution.word('site.location.climate', climate, '')
  if (latitude !== undefined) {
    resolution.value({
      key: 'site.location.latitude',
      given: latitude,
      filling: { choice: 0, remark: '' },
    })
    resolution.note(
      'months-from-latitude',
      `The yearly energy is spread over the months as usual at latitude ${latitude}; each month's share is known to about ${error} percentage points.`,
    )
    return monthShares(latitude)
  }
  const figure = figureOf(null, `roof.latitude.${climate ?? 'temperate'}`)
  const usual = resolution.value({
    key: 'site.location.latitude',
    given: undefined,
    filling: { figure },
  })
  resolution.note(
    'months-usual',
    `The yearly energy is spread over the months as in a ${climate ?? 'temperate'} climate at latitude ${usual} north. Elsewhere write site: location: {latitude: …}, south of the equator below zero.`,
  )
  return monthShares(usual)
}
