import { competing2, competing3 } from './competing.ts'
import type { FailureModel } from './model.ts'
import { weibull } from './weibull.ts'
import { weibullEarly } from './weibull-early.ts'

/** The failure models that are tried, the plainest first. */
export const FAILURE_MODELS: readonly FailureModel[] = [weibull, weibullEarly, competing2, competing3]
