import type { Option } from '../../scenario/model.ts'
import { isOptimiser, isSunInverter } from '../../topologies/kinds.ts'
import type { RoofYear } from '../roof-year.ts'
import { keptUnderShadeWord } from '../shade/shade-word.ts'
import { stringsOfInput } from '../strings/input-strings.ts'
import { litStrings } from '../strings/lit-strings.ts'
import type { PanelString, StringPart } from '../strings/panel-string.ts'
import { sharedTrackerShare } from '../strings/string-power.ts'
import { wiringOf } from '../strings/wiring.ts'
import type { Device, Harvest } from './device.ts'

/**
 * Harvest of panels in strings on inverters, with optimisers on all, some or none (E4–E6). Panels without optimisers
 * share what their string and input allow; panels with one give their own best less the optimiser's conversion, as long
 * as the string carries at least the current of their best point.
 *
 * @param roof - the roof
 * @param option - an option with inverters
 * @param fitted - array × panel: which have optimisers
 * @returns one device an inverter that has panels
 */
export function harvestByString(roof: RoofYear, option: Option, fitted: readonly (readonly boolean[])[]): Harvest {
  const { arrays, figures } = roof.generation
  const { nSteps } = roof.sky
  const wiring = wiringOf(option, arrays)
  const panelKw = classPower(roof, fitted)
  const harvest = wiring.inverters.map(() => new Float64Array(nSteps))
  const dc = wiring.inverters.map(() => new Float64Array(nSteps))
  const ratedKw = wiring.inverters.map(() => 0)
  for (const input of wiring.inputs) {
    const strung = input.arrays.flatMap(index => {
      const array = arrays[index]
      if (array === undefined) return []
      ratedKw[input.inverter] = (ratedKw[input.inverter] ?? 0) + (array.panels * array.panelW) / 1000
      return [{ array, classOfPanel: roof.classOfPanel[index] ?? [], hasOptimiser: fitted[index] ?? [] }]
    })
    const power = inputPower(roof, stringsOfInput(strung, figures.maxPanelsInString), panelKw)
    addTo(harvest[input.inverter], power.harvestKw)
    addTo(dc[input.inverter], power.dcKw)
  }
  const devices = wiring.inverters.flatMap((inverter, index): Device[] => {
    const harvestKw = harvest[index]
    const dcKw = dc[index]
    const rated = ratedKw[index] ?? 0
    if (harvestKw === undefined || dcKw === undefined || rated === 0) return []
    const curveKw = inverter.acKw ?? rated
    const { population, acKw, curve } = inverter
    return [{ population, units: 1, acKw, curveKw, curve, harvestKw, dcKw }]
  })
  return {
    devices,
    populationShares: sharesOf(roof, option, devices, fitted),
  }
}

/** Power of one panel of each class after shade given in words, kW. */
function classPower(roof: RoofYear, fitted: readonly (readonly boolean[])[]): Float64Array[] {
  const { figures } = roof.generation
  return roof.classes.map(({ array, panelKw }) => {
    const word = roof.wordLost[array]
    if (!word) return panelKw
    const row = fitted[array] ?? []
    const tracked = row.filter(Boolean).length / row.length
    return panelKw.map((kw, step) => {
      const lost = word[roof.sky.month[step] ?? 0] ?? 0
      return kw * keptUnderShadeWord(lost, figures.shadeImpact, figures.shadeWordTouches, tracked)
    })
  })
}

/** Power of a tracker input, kW, a value a step: before and after its optimisers. */
interface InputPower {
  readonly harvestKw: Float64Array
  readonly dcKw: Float64Array
}

function addTo(sum: Float64Array | undefined, more: Float64Array, times = 1): void {
  if (sum === undefined) return
  for (let step = 0; step < more.length; step++) sum[step] = (sum[step] ?? 0) + times * (more[step] ?? 0)
}

function inputPower(roof: RoofYear, strings: readonly PanelString[], panelKw: readonly Float64Array[]): InputPower {
  const { nSteps } = roof.sky
  const harvestKw = new Float64Array(nSteps)
  const dcKw = new Float64Array(nSteps)
  const { figures } = roof.generation
  const parts = strings.flatMap(({ parts: of, times }) => of.map(part => ({ ...part, count: part.count * times })))
  const matched = strings.some(({ parts: of }) => panelsIn(of) > 1) ? 1 - figures.seriesMismatch : 1
  const trackerShare = parts.some(part => !part.optimised) ? trackerShares(roof, strings) : null
  const bare = new Float64Array(nSteps)
  const optimised = new Float64Array(nSteps)
  for (const part of parts) addTo(part.optimised ? optimised : bare, panelKw[part.light] ?? bare, part.count)
  for (let step = 0; step < nSteps; step++) {
    const bareKw = bare[step] ?? 0
    // what the strings lose is taken from panels with and without optimisers alike; only the former pay conversion
    const share = bareKw > 0 && trackerShare !== null ? (trackerShare[step] ?? 1) : 1
    const optimisedHarvest = (optimised[step] ?? 0) * share
    const bareHarvest = bareKw * share * matched
    harvestKw[step] = bareHarvest + optimisedHarvest
    dcKw[step] = bareHarvest + optimisedHarvest * figures.optimiserEfficiency
  }
  return { harvestKw, dcKw }
}

// Options often have the same strings, and shade given in words changes no current; the same strings under the same
// light are computed once.
const known = new WeakMap<RoofYear['classes'], Map<string, Float64Array>>()

/** Share of the power of panels tracked alone that the strings of an input give, a value a step. */
function trackerShares(roof: RoofYear, strings: readonly PanelString[]): Float64Array {
  const ofRoof = known.get(roof.classes) ?? new Map<string, Float64Array>()
  known.set(roof.classes, ofRoof)
  const name = JSON.stringify(strings)
  const shares = ofRoof.get(name) ?? playTracker(roof, strings)
  ofRoof.set(name, shares)
  return shares
}

function playTracker(roof: RoofYear, strings: readonly PanelString[]): Float64Array {
  const shares = new Float64Array(roof.sky.nSteps).fill(1)
  // parallel strings of different length: their voltages differ even in equal light
  const unequal = strings.some(({ parts }) => panelsIn(parts) !== panelsIn(strings[0]?.parts ?? []))
  const lights = [...new Set(strings.flatMap(({ parts }) => parts.map(part => part.light)))]
  const columns = lights.map(light => roof.classes[light]?.lightWM2 ?? new Float64Array(shares.length))
  const alike = unequal ? new Uint8Array(shares.length) : stepsOfEqualLight(columns, shares.length)
  const lit = litStrings(strings)
  const suns = new Float64Array(roof.classes.length)
  for (let step = 0; step < shares.length; step++) {
    if (alike[step] === 1) continue
    for (let i = 0; i < lights.length; i++) suns[lights[i] ?? 0] = (columns[i]?.[step] ?? 0) / 1000
    shares[step] = sharedTrackerShare(lit, suns)
  }
  return shares
}

/** 1 at each step in which all columns hold the same light. */
function stepsOfEqualLight(columns: readonly Float64Array[], nSteps: number): Uint8Array {
  const alike = new Uint8Array(nSteps).fill(1)
  const first = columns[0] ?? new Float64Array(nSteps)
  for (const column of columns) {
    for (let step = 0; step < nSteps; step++) {
      const light = first[step] ?? 0
      if (Math.abs((column[step] ?? 0) - light) > 1e-9 * light) alike[step] = 0
    }
  }
  return alike
}

function panelsIn(parts: readonly StringPart[]): number {
  return parts.reduce((sum, part) => sum + part.count, 0)
}

function sharesOf(
  roof: RoofYear,
  option: Option,
  devices: readonly Device[],
  fitted: readonly (readonly boolean[])[],
): (number | null)[] {
  const yearKwh = (kw: Float64Array): number => {
    let sum = 0
    for (let step = 0; step < kw.length; step++) sum += (kw[step] ?? 0) * (roof.sky.hours[step] ?? 0)
    return sum
  }
  const ofDevice = devices.map(device => ({ population: device.population, kwh: yearKwh(device.dcKw) }))
  const all = ofDevice.reduce((sum, { kwh }) => sum + kwh, 0)
  const isInverter = new Set(devices.map(device => device.population))
  const nPanels = fitted.flat().length
  const nFitted = fitted.flat().filter(Boolean).length
  const nOptimisers = option.populations.reduce((sum, p) => sum + (isOptimiser(p.kind) ? p.count : 0), 0)
  return option.populations.map((population, index) => {
    if (isInverter.has(index) && all > 0) {
      return ofDevice.reduce((sum, { population: of, kwh }) => sum + (of === index ? kwh : 0), 0) / all
    }
    if (isOptimiser(population.kind)) return (nFitted / nPanels) * (population.count / nOptimisers)
    if (isSunInverter(population.kind)) return 0
    return null
  })
}
