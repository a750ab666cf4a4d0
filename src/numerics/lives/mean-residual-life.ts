import { power } from '../power.ts'
import { gammaFunction, lowerRegularisedGamma } from '../special.ts'
import type { CuredModes, Mode } from './competing-risks.ts'

/** Lives are followed to this age (C6). */
const OLDEST_YEARS = 100

/**
 * Mean residual life of units of any age, lives followed to 100 years (C6): ∫ S(x)/S(a) dx from a to 100. Closed form
 * by the incomplete gamma function for one Weibull mode, else integrated once and interpolated.
 *
 * @source IEC 61703, mean residual life (recalled); incomplete gamma form by the substitution x = (t/η)^β
 */
export class ResidualLives {
  readonly #modes: readonly Mode[]
  readonly #only: WeibullResidual | null
  /** Width of a panel, years; S at the start of each panel and ∫ S from there to 100; computed when first needed. */
  #panel = 2
  #areas: Float64Array | null = null
  #survivals = new Float64Array(0)

  /**
   * @param modes - the modes of the units
   * @param cured - modes left out
   */
  constructor(modes: readonly Mode[], cured: CuredModes = 0) {
    this.#modes = cured === 0 ? modes : modes.filter((_, i) => !((cured >> i) & 1))
    const [first] = this.#modes
    this.#only =
      first !== undefined && this.#modes.length === 1 && first.susceptible === 1 ? new WeibullResidual(first) : null
  }

  /**
   * Mean residual life at an age.
   *
   * @param ageYears - a, years, >= 0
   * @returns years, >= 0; 0 from age 100 on, 100 − a where nothing can fail
   */
  at(ageYears: number): number {
    if (ageYears >= OLDEST_YEARS) return 0
    if (this.#modes.length === 0) return OLDEST_YEARS - ageYears
    if (this.#only !== null) return this.#only.at(ageYears)
    const survival = this.#survival(ageYears)
    if (survival < 1e-290) return 0 // nothing survives to this age
    this.#areas ??= this.#integrate()
    const panel = Math.floor(ageYears / this.#panel)
    // survival bends most in the first panel, where a mode may be steep at age 0
    const area =
      panel === 0 ? this.#area(ageYears, this.#panel) + (this.#areas[1] ?? 0) : this.#between(panel, ageYears)
    return area / survival
  }

  /** ∫ S from an age inside a panel to 100: a cubic through both ends, whose slopes there are −S. */
  #between(panel: number, ageYears: number): number {
    const t = ageYears / this.#panel - panel
    const start = this.#areas?.[panel] ?? 0
    const fall = start - (this.#areas?.[panel + 1] ?? 0)
    const d0 = this.#panel * (this.#survivals[panel] ?? 0)
    const d1 = this.#panel * (this.#survivals[panel + 1] ?? 0)
    return start - t * (d0 + t * (3 * fall - 2 * d0 - d1 + t * (d0 + d1 - 2 * fall)))
  }

  /** S as a product, which needs no logarithm. */
  #survival(ageYears: number, logAge: number = Math.log(ageYears)): number {
    if (ageYears <= 0) return 1
    let hazard = 0
    let alive = 1
    for (let i = 0; i < this.#modes.length; i++) {
      const mode = this.#modes[i]
      if (mode === undefined) continue
      const { susceptible, shape, lifeYears, logLife } = mode
      const x = shape === 1 ? ageYears / lifeYears : Math.exp(shape * (logAge - logLife))
      if (susceptible === 1) hazard += x
      else alive *= 1 - susceptible + susceptible * Math.exp(-x)
    }
    return alive * Math.exp(-hazard)
  }

  #integrate(): Float64Array {
    const steepest = this.#modes.reduce((most, mode) => Math.max(most, mode.shape), 0)
    const grid = steepest <= 8 ? plainGrid : new Grid(Math.max(16 / steepest, 0.02))
    const { panels, ends, points, weights } = grid
    this.#panel = grid.width
    const survivals = new Float64Array(panels + 2)
    let last = 0
    for (; last < panels; last++) {
      const alive = this.#survival(ends.age[last] ?? 0, ends.logAge[last])
      if (alive <= NEGLIGIBLE) break
      survivals[last] = alive
    }
    if (last === panels) survivals[panels] = this.#survival(OLDEST_YEARS)
    const areas = new Float64Array(panels + 2)
    for (let i = last - 1; i >= 0; i--) {
      let area = areas[i + 1] ?? 0
      for (let k = 3 * i; k < 3 * i + 3; k++) {
        area += (weights[k] ?? 0) * this.#survival(points.age[k] ?? 0, points.logAge[k])
      }
      areas[i] = area
    }
    this.#survivals = survivals
    return areas
  }

  #area(from: number, to: number): number {
    const half = (to - from) / 2
    let sum = 0
    for (let k = 0; k < 3; k++)
      sum += (GAUSS[k]?.weight ?? 0) * this.#survival(from + half + half * (GAUSS[k]?.at ?? 0))
    return half * sum
  }
}

/** Three-point rule on [−1, 1]; Abramowitz & Stegun (1964), table 25.4. */
const GAUSS = [
  { at: -0.7745966692414834, weight: 5 / 9 },
  { at: 0, weight: 8 / 9 },
  { at: 0.7745966692414834, weight: 5 / 9 },
]
/** Survival below which a panel is left out. Ours. */
const NEGLIGIBLE = 1e-12

/** Ages with their logarithms. */
class Ages {
  readonly age: Float64Array
  readonly logAge: Float64Array

  constructor(ages: readonly number[]) {
    this.age = Float64Array.from(ages)
    this.logAge = this.age.map(Math.log)
  }
}

/** Panels of equal width from age 0 to 100, the last cut there. */
class Grid {
  readonly width: number
  readonly panels: number
  /** Starts of the panels. */
  readonly ends: Ages
  /** Three points a panel, and their weights. */
  readonly points: Ages
  readonly weights: Float64Array

  constructor(width: number) {
    this.width = width
    this.panels = Math.ceil(OLDEST_YEARS / width)
    const starts = Array.from({ length: this.panels }, (_, i) => i * width)
    const half = (start: number): number => (Math.min(start + width, OLDEST_YEARS) - start) / 2
    this.ends = new Ages(starts)
    this.points = new Ages(starts.flatMap(start => GAUSS.map(({ at }) => start + half(start) * (1 + at))))
    this.weights = Float64Array.from(starts.flatMap(start => GAUSS.map(({ weight }) => weight * half(start))))
  }
}

/** For all modes but very steep ones. */
const plainGrid = new Grid(2)

/** Closed form of one Weibull mode; what does not depend on the age is computed once. */
class WeibullResidual {
  readonly #mode: Mode
  /**
   * Mean life not cut at 100 years, years, and the share of it that is lived by age 100; null where hardly any unit
   * fails by then.
   */
  readonly #whole: { readonly meanYears: number; readonly byOldest: number } | null

  constructor(mode: Mode) {
    const { shape, lifeYears } = mode
    const oldest = power(OLDEST_YEARS / lifeYears, shape)
    const a = 1 / shape
    this.#mode = mode
    this.#whole =
      oldest < 1e-15
        ? null
        : {
            meanYears: lifeYears * gammaFunction(1 + a),
            byOldest: lowerRegularisedGamma(a, Math.min(oldest, 1e6)),
          }
  }

  at(ageYears: number): number {
    const { shape, lifeYears } = this.#mode
    const hazard = power(ageYears / lifeYears, shape)
    // far in the tail the difference of two shares near 1 has no digits left: 1/hazard rate is the leading term there
    if (hazard > 20) return Math.min(ageYears / (shape * hazard), OLDEST_YEARS - ageYears)
    if (this.#whole === null) return OLDEST_YEARS - ageYears
    const { meanYears, byOldest } = this.#whole
    // (t/η)^β of a young unit may be too small for a number where its root (t/η) is not
    const gone = hazard < 1e-15 ? ageYears / meanYears : lowerRegularisedGamma(1 / shape, hazard)
    return Math.max(0, meanYears * (byOldest - gone) * Math.exp(hazard))
  }
}
