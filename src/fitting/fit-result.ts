import type { AgeUnit } from './age-unit.ts'
import type { AgeBand } from './checks/goodness.ts'
import type { GroupTest } from './checks/log-rank.ts'
import type { ProfileInterval } from './likelihood/profile.ts'
import type { OwnerFilesResult } from './register/owner-result.ts'

/** A figure with error and intervals; bounds are null where the records set none. */
export interface FigureResult {
  readonly estimate: number
  /** Delta method. */
  readonly standardError: number
  readonly profile90: ProfileInterval
  readonly profile95: ProfileInterval
}

/** A figure of a model; intervals only for the model in use and for `weibull`. */
export type ParameterResult = Pick<FigureResult, 'estimate' | 'standardError'> & Partial<FigureResult>

/** One failure mode with its figures. */
export interface ModeResult {
  readonly cause: string
  readonly shape: number
  /** In the age unit. */
  readonly characteristicLife: number
  /** Share of units that can fail by it, (0, 1]. */
  readonly susceptible: number
}

/** A model that was tried and led to a fit. */
export interface ModelResult {
  readonly name: string
  readonly label: string
  /** Figures the records decided: `shape`, `characteristicLife`, `susceptible`; numbered from 1 with several causes. */
  readonly parameters: Readonly<Record<string, ParameterResult>>
  readonly modes: readonly ModeResult[]
  readonly logLikelihood: number
  /** AIC with the correction for small samples, n the number of failures; null where n is too small for it. */
  readonly aicc: number | null
  /** Likelihood-ratio test against the plainer model it extends; null for the plainest. */
  readonly against: ({ readonly name: string } & GroupTest) | null
}

/** Life that units surpass with a confidence, for an assumed shape. */
export interface LifeBound {
  readonly shape: number
  readonly confidence: number
  readonly characteristicLife: number
}

/** Equally likely sets of figures, all modes together. */
export interface DrawsResult {
  readonly method: string
  readonly effectiveDraws: number
  /** What the numbers of one mode are. */
  readonly columns: readonly ['shape', 'characteristicLife', 'susceptible']
  readonly causes: readonly string[]
  /** 200 sets in rising order of mean life; each one triple a mode. */
  readonly values: readonly (readonly (readonly [number, number, number])[])[]
}

/** A batch or month of installation with more failures than expected. */
export interface ClusterResult {
  readonly kind: 'batch' | 'month'
  readonly name: string
  readonly seen: number
  readonly expected: number
  readonly pValue: number
}

/** A curve that depends on its last few units. */
export interface DependsOnLast {
  /** Beyond this age, in the age unit, hardly any unit was watched. */
  readonly age: number
  /** Most units watched at a failure beyond it. */
  readonly atMost: number
  /** Share failed by ten years, from what was seen up to that age alone. */
  readonly failedByTenYears: number
}

/** One group of records. */
export interface GroupResult {
  readonly name: string
  readonly units: number
  readonly failed: number
  /** Of these, known only between two ages. */
  readonly failedBetween: number
  readonly oldestAge: number
  /** Name of the model in use; null where none could be fitted. */
  readonly best: string | null
  /** Why this model, or why none, in a sentence. */
  readonly choice: string
  readonly models: readonly ModelResult[]
  readonly b10: FigureResult | null
  readonly meanLife: FigureResult | null
  /** Share failed by years 5, 10, 15 and 25; `age` in the age unit. */
  readonly failedBy: readonly ({ readonly age: number; readonly years: number } & FigureResult)[]
  readonly survivalMethod: 'kaplan-meier' | 'turnbull'
  readonly survival: readonly {
    readonly age: number
    readonly estimate: number
    readonly low95: number | null
    readonly high95: number | null
    readonly low90: number | null
    readonly high90: number | null
  }[]
  /** Nelson–Aalen; empty with failures between two ages. */
  readonly cumulativeHazard: readonly {
    readonly age: number
    readonly estimate: number
    readonly standardError: number
  }[]
  readonly probabilityPlot: readonly { readonly age: number; readonly shareFailed: number }[]
  readonly goodness: {
    readonly bands: readonly AgeBand[]
    readonly chiSquare: number | null
    readonly degreesOfFreedom: number | null
    readonly pValue: number | null
  } | null
  /** Failures a slot, through replacements; null without repeated ones. */
  readonly meanCumulative:
    | readonly {
        readonly age: number
        readonly estimate: number
        readonly low95: number
        readonly high95: number
        readonly slotsWatched: number
      }[]
    | null
  /** What the curve would say without the ages at which hardly any unit was watched; null where that changes little. */
  readonly dependsOnLast: DependsOnLast | null
  readonly lifeBounds: readonly LifeBound[]
  readonly clusters: readonly ClusterResult[]
  readonly draws: DrawsResult | null
}

/** A comparison of groups. */
export interface TestResult extends GroupTest {
  readonly name: 'log-rank' | 'likelihood-ratio-curve' | 'likelihood-ratio-shape'
  readonly groups: readonly string[]
  /** Its result, in a sentence. */
  readonly said: string
}

/** A warning for the reader. */
export interface Warning {
  readonly code: string
  /** Group it belongs to; null for all. */
  readonly group: string | null
  readonly text: string
}

/** fit.json. */
export interface FitResult {
  readonly tool: { readonly name: string; readonly version: string }
  /** The file the records came from, as the user named it. */
  readonly records: string
  readonly ageUnit: AgeUnit
  readonly seed: number
  readonly rows: { readonly read: number; readonly leftOut: number }
  /** How rows were made of a register and tickets; null where the records came as rows. */
  readonly ownerFiles: OwnerFilesResult | null
  readonly prior: {
    readonly shape: readonly [number, number] | null
    readonly life: readonly [number, number] | null
  } | null
  readonly groups: readonly GroupResult[]
  readonly tests: readonly TestResult[]
  readonly warnings: readonly Warning[]
}
