import type { RoofArray, RoofFigures, Shade, ShadeWindow } from '../../scenario/roof.ts'
import { horizonHidesSun, windowIsActive } from '../shade/shade-hours.ts'
import type { SkyYear } from '../sky/sky-columns.ts'
import { panelPowerShare } from './panel-power.ts'
import type { PlaneYear } from './plane-year.ts'

/** Panels of one array that always get the same light (E4). */
export interface PanelClass {
  /** Index of the array. */
  readonly array: number
  /** Panels of the array that belong to it, by number from 0. */
  readonly panels: readonly number[]
  /** Light taken in after shade, W/m², a value a step. */
  readonly lightWM2: Float64Array
  /** Power of one panel tracked alone, kW, after system losses, a value a step. */
  readonly panelKw: Float64Array
}

/** The panels of an array by the light they get, and what one of them would give without shade. */
export interface ArrayYear {
  readonly classes: readonly PanelClass[]
  /** Power of one panel without any shade, kW, after system losses, a value a step. */
  readonly unshadedPanelKw: Float64Array
  readonly unshadedLightWM2: Float64Array
}

/**
 * The panels of an array sorted by the shadows that fall on them, with the power of each (E1, E4). Shade takes light
 * from the direction of the sun only; sky and ground still shine on a panel in shadow.
 *
 * @param sky - irradiance on a horizontal surface
 * @param plane - light on the array's plane
 * @param array - the array
 * @param index - its index
 * @param lossesShare - system losses, share
 * @param figures - cooling, temperature coefficient
 * @returns at least one class
 */
export function arrayYear(
  sky: SkyYear,
  plane: PlaneYear,
  array: RoofArray,
  index: number,
  lossesShare: number,
  figures: RoofFigures,
): ArrayYear {
  const { nSteps } = sky
  const heatLoss = figures.heatLoss[array.mounting]
  const ratedKw = (array.panelW / 1000) * (1 - lossesShare)
  const powerOf = (lightWM2: Float64Array): Float64Array => {
    const kw = new Float64Array(nSteps)
    for (let step = 0; step < nSteps; step++) {
      kw[step] = ratedKw * panelPowerShare(lightWM2[step] ?? 0, sky.airC[step] ?? 0, heatLoss, figures.powerPerKelvin)
    }
    return kw
  }
  const unshadedLightWM2 = new Float64Array(nSteps)
  for (let step = 0; step < nSteps; step++) {
    unshadedLightWM2[step] = (plane.beamWM2[step] ?? 0) + (plane.diffuseWM2[step] ?? 0)
  }
  const unshadedPanelKw = powerOf(unshadedLightWM2)
  const hidden = hiddenSteps(sky, array.shade)
  const open = array.shade.windows.length === 0 && array.shade.horizon.length === 0
  const classes = groupsOf(array).map(({ panels, windows }) => {
    if (open || (windows.length === 0 && array.shade.horizon.length === 0)) {
      return { array: index, panels, lightWM2: unshadedLightWM2, panelKw: unshadedPanelKw }
    }
    const lightWM2 = shadedLight(plane, beamKept(sky, windows, hidden))
    return { array: index, panels, lightWM2, panelKw: powerOf(lightWM2) }
  })
  return { classes, unshadedPanelKw, unshadedLightWM2 }
}

/** Steps in which the surroundings hide the sun; null: none. */
function hiddenSteps(sky: SkyYear, { horizon }: Shade): Uint8Array | null {
  if (horizon.length === 0) return null
  const hidden = new Uint8Array(sky.nSteps)
  for (let step = 0; step < sky.nSteps; step++) {
    if (horizonHidesSun(horizon, sky.cosZenith[step] ?? 0, sky.sunAzimuthDegrees[step] ?? 0)) hidden[step] = 1
  }
  return hidden
}

/** Share of the light from the sun's direction that is left, a value a step. */
function beamKept(sky: SkyYear, windows: readonly ShadeWindow[], hidden: Uint8Array | null): Float64Array {
  const kept = new Float64Array(sky.nSteps).fill(1)
  for (const window of windows) takeWindow(kept, sky, window)
  if (hidden !== null) for (let step = 0; step < sky.nSteps; step++) if (hidden[step] === 1) kept[step] = 0
  return kept
}

function takeWindow(kept: Float64Array, sky: SkyYear, window: ShadeWindow): void {
  const left = 1 - window.beamLost
  for (let step = 0; step < sky.nSteps; step++) {
    if (windowIsActive(window, sky.month[step] ?? 0, sky.solarHour[step] ?? 0)) kept[step] = (kept[step] ?? 0) * left
  }
}

function shadedLight({ beamWM2, diffuseWM2 }: PlaneYear, kept: Float64Array): Float64Array {
  const lightWM2 = new Float64Array(kept.length)
  for (let step = 0; step < kept.length; step++) {
    lightWM2[step] = (beamWM2[step] ?? 0) * (kept[step] ?? 0) + (diffuseWM2[step] ?? 0)
  }
  return lightWM2
}

/** Panels that lie under the same windows, in order of their first panel. */
function groupsOf(array: RoofArray): { panels: number[]; windows: ShadeWindow[] }[] {
  const groups = new Map<string, { panels: number[]; windows: ShadeWindow[] }>()
  for (let panel = 0; panel < array.panels; panel++) {
    const windows = array.shade.windows.filter(w => panel >= w.firstPanel && panel < w.firstPanel + w.panels)
    const name = windows.map(window => array.shade.windows.indexOf(window)).join()
    const group = groups.get(name)
    if (group === undefined) groups.set(name, { panels: [panel], windows })
    else group.panels.push(panel)
  }
  return [...groups.values()]
}
