import { sumOf } from '../../numerics/sum.ts'
import { isSunInverter } from '../../topologies/kinds.ts'
import type { Resolution } from '../complete/resolution.ts'
import type { Option, Site } from '../model.ts'
import { middle } from '../quantity.ts'
import { oddCapacity, oddRating, oddYear, type Roof, tooCheap, tooDear } from './plausible.ts'

/** Power of a panel where it is not known, only to see what cannot be right; ours. */
const USUAL_PANEL_KW = 0.4

/**
 * Reports allowed values that are hardly right: a missing decimal point, cents instead of euros.
 *
 * @param site - the complete site
 * @param options - complete options
 * @param resolution - gets one note a value
 */
export function lookAgain(site: Site, options: readonly Option[], resolution: Resolution): void {
  const { generation, panels, energyValue } = site
  const importPrice = middle(energyValue.importPricePerKwh)
  const check = (what: string, problem: string | undefined): void => {
    if (problem !== undefined) resolution.note('look-again', `Look again at ${what}: ${problem}.`)
  }
  check('the price of a kWh sold', tooDear(middle(energyValue.exportPricePerKwh), importPrice))
  if (panels === null) return
  const roof: Roof = { panels, panelKw: site.panelW === null ? USUAL_PANEL_KW : site.panelW / 1000, importPrice }
  if (generation.form === 'monthly')
    check('the energy of a year', oddYear(Math.round(sumOf(generation.monthlyKwh)), panels))
  for (const option of options) {
    check(`the price of ${option.name}`, tooCheap(option.upfrontCost, roof))
    const kw = option.populations.reduce(
      (sum, { kind, count, acKw }) => sum + (isSunInverter(kind) ? count * (acKw ?? Number.NaN) : 0),
      0,
    )
    if (kw > 0 && generation.form !== 'arrays') check(`the rating of ${option.name}`, oddRating(kw, roof))
    const worth = option.battery?.worth
    if (worth?.form === 'computed') check(`the battery of ${option.name}`, oddCapacity(worth.kwh, roof))
  }
}
