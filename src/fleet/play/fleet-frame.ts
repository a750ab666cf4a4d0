import type { SiteForm } from '../sites/site-reader.ts'
import type { FleetModel } from './fleet-chance.ts'
import type { SumsShape } from './fleet-sums.ts'

/** All that playing a site needs of the fleet; the same for every part and every thread. Plain data. */
export interface FleetFrame {
  readonly seed: number
  readonly draws: number
  readonly form: SiteForm
  /** Models that several sites may share. */
  readonly models: readonly FleetModel[]
  /** Models and providers that are counted by name, those of most sites first; the rest are 'others', the last place. */
  readonly namedModels: readonly string[]
  readonly namedProviders: readonly string[]
  /** Sites picked at random, by id: groups they belong to (F7). */
  readonly sample: ReadonlyMap<string, readonly number[]>
  /** Sites of each group of the sample. */
  readonly groupSizes: readonly number[]
  /** Places of sites whose id occurs twice: the later ones, left out. */
  readonly repeated: readonly number[]
  /** Sites that can be read. */
  readonly sites: number
  /** Sites of the table or folder. */
  readonly listed: number
  /** Terms that hold for all sites, as `SiteClass.fleetTerms` says them. */
  readonly fleetTerms: string
  /** Exit rate of each provider, by its name, and failure of each model: what every later site must agree with. */
  readonly agreed: Readonly<Record<string, string>>
  readonly currency: string
  readonly horizonYears: number
  readonly startMonth: number
  readonly reserve: {
    readonly interest: number
    readonly opening: number
    readonly confidence: number
    readonly inflation: number | null
  }
  /** Mark of the fleet: equal only for the same files, read with the same result. */
  readonly mark: string
}

/**
 * Sizes of the sums of a fleet.
 *
 * @param frame - of the fleet
 */
export function shapeOf(frame: FleetFrame): SumsShape {
  return {
    draws: frame.draws,
    years: frame.horizonYears,
    models: frame.namedModels.length + 1,
    providers: frame.namedProviders.length + 1,
    groups: frame.groupSizes.length,
  }
}
