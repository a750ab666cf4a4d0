import { TOPOLOGIES } from '../../topologies/index.ts'
import { evidenceRow, kindOf } from '../../topologies/kinds.ts'
import type { FittedFiles } from '../files/fitted-files.ts'
import type { Option, Provider, WarrantyOffer } from '../model.ts'
import { keyWords } from '../schema/key-words.ts'
import type { GivenOption } from '../schema/option.ts'
import type { GivenScenario } from '../schema/scenario.ts'
import { panelsOf, unitsOf } from '../usual-parts.ts'
import { completeBattery } from './battery.ts'
import { completeComponent } from './component.ts'
import { ComponentPlace } from './component-place.ts'
import { completeLater } from './later.ts'
import { priceFactor } from './price-factor.ts'
import type { ProductModels } from './product-models.ts'
import type { Providers } from './providers.ts'
import type { Resolution } from './resolution.ts'
import { completeVisitPolicy } from './visit-policy.ts'

/** What the options of one scenario share. */
export interface Shared {
  readonly given: GivenScenario
  readonly resolution: Resolution
  readonly models: ProductModels
  readonly providers: Providers
  readonly fitted: FittedFiles
}

/**
 * One option, complete.
 *
 * @param option - as written, without problems
 * @param index - place among the options, from 0
 * @param shared - what the options have in common
 */
export function completeOption(option: GivenOption, index: number, shared: Shared): Option {
  const { resolution, given } = shared
  const key = (name: string) => `${option.name} / ${name}`
  const yours = (name: string, value: number) =>
    resolution.value({ key: key(name), given: value, filling: { choice: 0, remark: '' } })
  resolution.word(key('topology'), option.topology, '')
  yours('upfront_cost', option.upfront_cost)
  const gateways = option.components.some(component => kindOf(component.kind).monitors)
  const monitoring = gateways ? null : (option.monitoring ?? 'built-in')
  if (!gateways) resolution.word(key('monitoring'), option.monitoring, 'built-in')
  const places = option.components.map(
    (component, place) => new ComponentPlace(resolution, option, place, component, letters(index)),
  )
  const panels = panelsOf(given.site)
  const sharedVisits = visitsShared(option, panels)
  const populations = places.map(at =>
    completeComponent(at, {
      panels,
      fromPanels: given.site.generation.arrays !== undefined,
      priceFactor: priceFactor(given)?.factor ?? null,
      monitored: monitoring !== 'none',
      canBeUnmonitored: gateways || monitoring === 'none',
      sharedVisits,
      offered: (option.warranty_offers ?? []).some(offer => offerPlace(option, offer.component) === at.place),
      model: shared.models.indexOf(option, at.place),
      sharedBy: at.given.model === undefined ? null : `model ${at.given.model}`,
      fitted: shared.fitted,
    }),
  )
  const offers = completeOffers(option, populations, yours)
  const labourCovered = [...populations.map(one => one.warranty.labourYears), ...offers.map(offer => offer.labourYears)]
  const { warrantyProvider, labourProvider } = completeProviders(
    option,
    shared,
    labourCovered.some(years => years > 0),
  )
  return {
    id: letters(index),
    name: option.name,
    topology: option.topology,
    upfrontCost: option.upfront_cost,
    includes: option.includes ?? [],
    yearlyCost: resolution.quantity({
      key: key('yearly_cost'),
      scale: 'log',
      given: option.yearly_cost,
      filling: { choice: 0, remark: 'nothing unless given' },
      unknownName: key('yearly_cost'),
      evidenceName: '',
      label: `${keyWords('yearly_cost')} (${option.name})`,
      evidenceLabel: '',
      read: true,
      evidenceDrawn: false,
    }),
    later: completeLater(option, resolution),
    monitoring,
    populations,
    warrantyProvider,
    labourProvider,
    offers,
    visitPolicy: completeVisitPolicy({ option, populations, panels: panels ?? null, resolution }),
    battery: completeBattery(option, given, resolution),
    designLosses: completeDesignLosses(option, given, resolution, letters(index)),
    optimisersOn: option.optimisers_on === undefined ? null : new Map(Object.entries(option.optimisers_on)),
  }
}

/** A, B, …, Z, AA, … for 0, 1, …, 25, 26, … */
export function letters(index: number): string {
  const last = String.fromCharCode(65 + (index % 26))
  return index < 26 ? last : letters(Math.floor(index / 26) - 1) + last
}

/** Place of the component an offer is for: the first of its kind, or the first of all (W6). */
export function offerPlace(option: Pick<GivenOption, 'components'>, kind: string | undefined): number {
  return kind === undefined ? 0 : option.components.findIndex(component => component.kind === kind)
}

/** Whether a visit can ever repair more than one unit: under a policy, tried or given, or at planned replacement (O3, M6). */
function visitsShared(option: GivenOption, panels: number | undefined): boolean {
  const visited = option.components.filter(component => component.needs_visit ?? kindOf(component.kind).needsVisit)
  const planned = visited.filter(component => component.replace_at_age_years !== undefined)
  return visited.some(component => unitsOf(component, option, panels) > 1) || planned.length > 1
}

type Yours = (name: string, value: number) => number

function completeOffers(option: GivenOption, populations: Option['populations'], yours: Yours): WarrantyOffer[] {
  return (option.warranty_offers ?? []).map((offer, index) => {
    const place = offerPlace(option, offer.component)
    const labourYears = offer.labour_years ?? populations[place]?.warranty.labourYears ?? 0
    yours(`warranty_offers.${index}.years`, offer.years)
    yours(`warranty_offers.${index}.labour_years`, labourYears)
    yours(`warranty_offers.${index}.price`, offer.price)
    return { place, years: offer.years, labourYears, price: offer.price, taken: offer.taken ?? false }
  })
}

function completeProviders(
  option: GivenOption,
  shared: Shared,
  labourCovered: boolean,
): { warrantyProvider: Provider; labourProvider: Provider } {
  const first = option.components[0]
  const row = first === undefined ? null : evidenceRow(first.kind, first.tier)
  return {
    warrantyProvider: shared.providers.maker(option, row, first?.kind ?? null),
    labourProvider: shared.providers.installer(option, labourCovered),
  }
}

function completeDesignLosses(
  option: GivenOption,
  given: GivenScenario,
  resolution: Resolution,
  id: string,
): Option['designLosses'] {
  // With arrays the losses are computed from the roof.
  if (given.site.generation.arrays !== undefined) return { mismatchAndShade: 0, clipping: 0, conversion: 0 }
  const losses = option.design_losses
  const trackings = new Set(given.options.map(one => TOPOLOGIES[one.topology].tracking))
  if (losses?.mismatch_and_shade === undefined && (trackings.size > 1 || !trackings.has('string')))
    resolution.note(
      'design-losses-not-given',
      `${option.name}: no loss to shade and mismatch is given, so 0 is taken. Where options differ in how they track the panels, their value depends on it.`,
      id,
    )
  const share = (key: 'mismatch_and_shade' | 'clipping' | 'conversion') =>
    resolution.value({
      key: `${option.name} / design_losses.${key}`,
      given: losses?.[key],
      filling: { choice: 0, remark: 'no loss unless given' },
    })
  return {
    mismatchAndShade: share('mismatch_and_shade'),
    clipping: share('clipping'),
    conversion: share('conversion'),
  }
}
