import { kindOf } from '../../topologies/kinds.ts'
import type { Option } from '../model.ts'
import type { GivenOption } from '../schema/option.ts'
import { unitShares } from '../unit-shares.ts'
import type { Resolution } from './resolution.ts'

/** Largest share of generation behind one unit with which its failure waits by default (O3a). Judgement. */
const SMALL_SHARE = 0.1
const USUAL_REASON =
  'one failed unit of twenty costs less in a year than a visit; the same for every option with such units'
const EACH_REASON = 'a unit carries more than 10 % of the generation, so none waits for another'

/** An option as far as its visits need it. */
export interface VisitedOption {
  readonly option: Pick<GivenOption, 'name' | 'visit_policy'>
  readonly populations: Option['populations']
  /** Panels of the site; null where they are not known. */
  readonly panels: number | null
  readonly resolution: Resolution
}

/**
 * When failed units get a visit (O3); the default (O3a) is the same for all units behind single panels. A default is listed
 * only where the option has such units.
 *
 * @returns null: every failure has a visit of its own
 */
export function completeVisitPolicy({ option, populations, panels, resolution }: VisitedOption): Option['visitPolicy'] {
  const given = option.visit_policy
  const key = `${option.name} / visit_policy`
  const largest = largestOnPanels(populations, panels)
  const waits = given === undefined ? largest !== null && largest <= SMALL_SHARE : given !== 'each'
  if (!waits) {
    if (given !== undefined || largest !== null)
      resolution.word(key, given === 'each' ? given : undefined, 'each', EACH_REASON)
    return null
  }
  const written = given === undefined || given === 'each' ? {} : given
  const usual = given === undefined
  return {
    waitForUnits: resolution.value({
      key: `${key}.wait_for_units`,
      given: written.wait_for_units,
      filling: usual ? { choice: 2, remark: USUAL_REASON } : { choice: 1, remark: 'the first failure calls a visit' },
    }),
    waitAtMostDays: resolution.value({
      key: `${key}.wait_at_most_days`,
      given: written.wait_at_most_days,
      filling: { choice: 365, remark: usual ? USUAL_REASON : 'a year at most' },
    }),
  }
}

/** Largest share behind one unit on a panel that needs a visit, (0, 1]; null where there is none. */
function largestOnPanels(populations: Option['populations'], panels: number | null): number | null {
  const shares = unitShares({ populations }, panels, null)
  const onPanels = populations.filter(({ kind, needsVisit }) => needsVisit && kindOf(kind).role === 'panel-level')
  return onPanels.length === 0 ? null : Math.max(...onPanels.map(({ place }) => shares[place] ?? 0))
}
