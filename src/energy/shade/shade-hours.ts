import type { Shade, ShadeWindow } from '../../scenario/roof.ts'
import { RADIANS_PER_DEGREE } from '../sky/sun-position.ts'

/**
 * Whether a shadow falls at a moment (E4). Both ends of the months count; hours run from the first up to the second.
 *
 * @param window - the shadow
 * @param month - 0 = January
 * @param solarHour - hours of solar time
 * @returns true in its months and hours; where the first month is later than the last, they include the new year
 */
export function windowIsActive(window: ShadeWindow, month: number, solarHour: number): boolean {
  const first = window.months[0]
  const last = window.months[1]
  const calendar = month + 1
  const inMonths = first <= last ? calendar >= first && calendar <= last : calendar >= first || calendar <= last
  return inMonths && solarHour >= window.hours[0] && solarHour < window.hours[1]
}

/**
 * Whether the surroundings hide the sun (E4): the sun is lower than the line at its bearing.
 *
 * @param horizon - heights at bearings, ascending; straight lines between, also over north; empty: nothing
 * @param cosZenith - of the sun
 * @param azimuthDegrees - of the sun, [0, 360)
 * @returns true when the sun is behind the line
 */
export function horizonHidesSun(horizon: Shade['horizon'], cosZenith: number, azimuthDegrees: number): boolean {
  if (horizon.length === 0) return false
  const heightDegrees = Math.asin(Math.min(1, cosZenith)) / RADIANS_PER_DEGREE
  return heightDegrees < lineHeight(horizon, azimuthDegrees)
}

function lineHeight(horizon: Shade['horizon'], azimuthDegrees: number): number {
  let after = 0
  while (after < horizon.length && (horizon[after]?.azimuthDegrees ?? 0) <= azimuthDegrees) after++
  const right = horizon[after === horizon.length ? 0 : after]
  const left = horizon[after === 0 ? horizon.length - 1 : after - 1]
  if (left === undefined || right === undefined) return 0
  const width = (right.azimuthDegrees - left.azimuthDegrees + 360) % 360
  if (width === 0) return left.heightDegrees
  const along = ((azimuthDegrees - left.azimuthDegrees + 360) % 360) / width
  return left.heightDegrees + (right.heightDegrees - left.heightDegrees) * along
}
