import type { RoofArray, Shade, ShadeWindow } from '../roof.ts'
import type { GivenArray } from '../schema/arrays.ts'
import type { Resolution } from './resolution.ts'

/**
 * One array, complete (E4), listed in words.
 *
 * @param given - as written
 * @param resolution - takes the line
 */
export function completeArray(given: GivenArray, resolution: Resolution): RoofArray {
  const mounting = given.mounting ?? 'close-roof'
  const azimuthDegrees = given.azimuth % 360
  const said = [
    `${given.panels} × ${given.panel_w} W`,
    `${given.tilt}° from flat`,
    `facing ${azimuthDegrees}°`,
    `input ${given.input ?? 1}`,
    mounting,
    shadeWords(given),
  ]
  resolution.word(`site.generation.arrays ${given.name}`, said.join(', '), '')
  return {
    name: given.name,
    panels: given.panels,
    panelW: given.panel_w,
    tiltDegrees: given.tilt,
    azimuthDegrees,
    input: given.input ?? 1,
    strings: given.strings ?? null,
    wiring: given.wiring ?? null,
    mounting,
    shade: completeShade(given),
  }
}

function completeShade(given: GivenArray): Shade {
  const { shade } = given
  return {
    word: typeof shade === 'string' && shade !== 'none' ? shade : null,
    windows: typeof shade === 'object' ? shade.map(window => completeWindow(window, given.panels)) : [],
    horizon: (given.horizon ?? [])
      .map(({ azimuth, height }) => ({ azimuthDegrees: azimuth % 360, heightDegrees: height }))
      .sort((a, b) => a.azimuthDegrees - b.azimuthDegrees),
  }
}

type GivenWindow = Extract<NonNullable<GivenArray['shade']>, readonly unknown[]>[number]

function completeWindow(window: GivenWindow, panels: number): ShadeWindow {
  const [firstMonth = 1, lastMonth = 12] = window.months
  const [from = 0, to = 24] = window.hours
  const [first, last] = Array.isArray(window.panels) ? window.panels : [1, window.panels ?? panels]
  return {
    months: [firstMonth, lastMonth],
    hours: [from, to],
    firstPanel: (first ?? 1) - 1,
    panels: (last ?? panels) - (first ?? 1) + 1,
    beamLost: window.beam_lost,
  }
}

function shadeWords({ shade, horizon }: GivenArray): string {
  if (typeof shade === 'string') return `shade ${shade}`
  const windows = shade?.length ?? 0
  const line = horizon === undefined || horizon.length === 0 ? '' : 'a horizon line'
  const shadows = windows === 0 ? '' : `${windows} shadow${windows === 1 ? '' : 's'}`
  return [shadows, line].filter(part => part !== '').join(' and ') || 'no shade given'
}
