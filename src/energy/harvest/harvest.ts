import type { Option } from '../../scenario/model.ts'
import { TOPOLOGIES } from '../../topologies/index.ts'
import type { Tracking } from '../../topologies/topology.ts'
import type { RoofYear } from '../roof-year.ts'
import type { Harvest } from './device.ts'
import { harvestByPanel } from './harvest-by-panel.ts'
import { harvestByString } from './harvest-by-string.ts'

/** How panels are harvested, by tracking of the topology (E4–E6). */
const HARVESTS = {
  string: harvestByString,
  'all-optimisers': harvestByString,
  'some-optimisers': harvestByString,
  panel: harvestByPanel,
} as const satisfies Record<
  Tracking,
  (roof: RoofYear, option: Option, fitted: readonly (readonly boolean[])[]) => Harvest
>

/**
 * What an option draws from the roof before its inverters (E4–E6).
 *
 * @param roof - the roof
 * @param option - the option
 * @param fitted - array × panel: which have optimisers
 * @returns its devices with their DC power in year 0
 */
export function harvestOf(roof: RoofYear, option: Option, fitted: readonly (readonly boolean[])[]): Harvest {
  return HARVESTS[TOPOLOGIES[option.topology].tracking](roof, option, fitted)
}
