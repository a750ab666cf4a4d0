/** What a rule between blocks is given, and what it is. */

import type { Problems } from '../../input/problems.ts'
import type { GivenScenario } from '../schema/scenario.ts'
import type { Draft } from '../schema/walk.ts'

/** A scenario as far as it could be read; rules between blocks look at what is there. */
export type ScenarioDraft = Draft<GivenScenario>

/** A rule between blocks: notes every place that breaks it. */
export type Rule = (draft: ScenarioDraft, problems: Problems) => void
