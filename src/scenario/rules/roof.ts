import { nearest, type Problems } from '../../input/problems.ts'
import { TOPOLOGIES } from '../../topologies/index.ts'
import { isOptimiser, isPanelInverter, isSunInverter } from '../../topologies/kinds.ts'
import { SKIES } from '../schema/location.ts'
import { panelsOfArrays } from '../usual-parts.ts'
import type { ScenarioDraft } from './draft.ts'
import { componentsOf, type OptionPart, optionsOf } from './parts.ts'

const SITE = ['site'] as const
const GENERATION = ['site', 'generation'] as const

/** What goes with arrays and what does not, and that the panels of arrays and options fit together. */
export function checkRoof(draft: ScenarioDraft, problems: Problems): void {
  const generation = draft.site?.generation
  if (generation === undefined) return
  checkLocation(draft, problems)
  const hourless = generation.arrays === undefined && generation.hourly_csv === undefined
  if (hourless && draft.site?.load !== undefined)
    problems.add(
      [...SITE, 'load'],
      '"load" needs the hours of the energy: give arrays or hourly_csv, or write site.energy_value.self_consumed instead',
    )
  checkArrays(draft, problems)
  for (const part of optionsOf(draft)) checkOption(part, draft, problems)
}

function checkLocation(draft: ScenarioDraft, problems: Problems): void {
  const path = [...SITE, 'location']
  const location = draft.site?.location
  const generation = draft.site?.generation
  if (generation?.arrays !== undefined) {
    if (problems.touches(path)) return
    if (location === undefined) problems.add(path, 'missing; arrays need the place of the roof')
    if (location !== undefined && location.latitude === undefined)
      problems.add([...path, 'latitude'], 'missing; needed: a number from -65 to 65 degrees')
    if (location !== undefined && SKIES.every(sky => location[sky] === undefined))
      problems.add(path, `says no light; give one of ${SKIES.join(', ')}, e.g. climate: temperate`)
    return
  }
  if (location === undefined || problems.touches([...GENERATION, 'arrays'])) return
  if (generation?.monthly_kwh !== undefined || generation?.hourly_csv !== undefined) {
    problems.add(path, '"location" is read only with site.generation.arrays or annual_kwh alone; leave it out')
    return
  }
  for (const key of Object.keys(location))
    if (key !== 'latitude' && key !== 'climate')
      problems.add([...path, key], `with annual_kwh alone only latitude and climate are read; leave "${key}" out`)
}

function checkArrays(draft: ScenarioDraft, problems: Problems): void {
  const names: string[] = []
  draft.site?.generation?.arrays?.forEach((array, index) => {
    if (array?.name === undefined) return
    if (names.includes(array.name))
      problems.add(
        [...GENERATION, 'arrays', index, 'name'],
        `another array is named "${array.name}" already; give each its own name`,
      )
    names.push(array.name)
  })
  const counted = panelsOfArrays(draft.site)
  const givenPanels = draft.site?.panels
  if (counted !== undefined && givenPanels !== undefined && counted !== givenPanels)
    problems.add([...SITE, 'panels'], `found ${givenPanels}; the arrays have ${counted} panels together`)
}

function checkOption(part: OptionPart, draft: ScenarioDraft, problems: Problems): void {
  const arrays = draft.site?.generation?.arrays
  const { option, path } = part
  if (arrays === undefined) {
    if (option.optimisers_on !== undefined)
      problems.add(
        [...path, 'optimisers_on'],
        '"optimisers_on" names arrays and needs site.generation.arrays; leave it out',
      )
    return
  }
  if (option.design_losses !== undefined)
    problems.add(
      [...path, 'design_losses'],
      'with arrays the losses are played from the roof; leave "design_losses" out',
    )
  for (const { component, path: at } of componentsOf(part))
    if (isSunInverter(component.kind) && component.ac_kw === undefined && !problems.touches([...at, 'ac_kw']))
      problems.add(
        [...at, 'ac_kw'],
        `missing; with arrays the AC rating decides what is clipped. Write in the option  ${isPanelInverter(component.kind) ? 'inverter_kw: 0.35  , of one unit' : 'inverter_kw: 5'}`,
      )
  checkOptimisers(part, draft, problems)
}

function checkOptimisers({ option, path }: OptionPart, draft: ScenarioDraft, problems: Problems): void {
  const { optimisers_on: fitted, topology } = option
  if (fitted === undefined) return
  if (topology !== undefined && TOPOLOGIES[topology].tracking !== 'some-optimisers') {
    problems.add(
      [...path, 'optimisers_on'],
      `"optimisers_on" goes with topology "string-some-optimisers"; this one is "${topology}"`,
    )
    return
  }
  const arrays = draft.site?.generation?.arrays ?? []
  const names = arrays.flatMap(array => (array?.name === undefined ? [] : [array.name]))
  for (const [name, panels] of Object.entries(fitted)) {
    const array = arrays.find(one => one?.name === name)
    if (array === undefined && names.length === arrays.length) {
      const meant = nearest(name, names)
      const advice = meant === null ? `the arrays are ${names.join(', ')}` : `did you mean "${meant}"?`
      problems.add([...path, 'optimisers_on', name], `no array is named "${name}"; ${advice}`)
    } else if (array?.panels !== undefined && panels !== undefined && panels > array.panels)
      problems.add([...path, 'optimisers_on', name], `found ${panels} panels; "${name}" has ${array.panels}`)
  }
  const wanted = Object.values(fitted).reduce<number>((sum, panels) => sum + (panels ?? 0), 0)
  const counted = componentsOf({ option, path }).reduce(
    (sum, { component }) => sum + (isOptimiser(component.kind) ? (component.count ?? 1) : 0),
    0,
  )
  if (wanted !== counted && counted > 0)
    problems.add(
      [...path, 'optimisers_on'],
      `names ${wanted} panels; the option lists ${counted} optimisers: one goes on each panel named`,
    )
}
