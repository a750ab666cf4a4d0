import type { Problems } from '../../input/problems.ts'
import type { GivenScenario } from '../schema/scenario.ts'
import type { Draft } from '../schema/walk.ts'

/** Every rule between blocks. */
export function checkRules(_draft: Draft<GivenScenario>, _problems: Problems): void {}
