import type { Expansion } from '../../numerics/newton.ts'
import { coordinatesOf, type Form, modesOfForm } from './form.ts'
import { fillModeTerms, ModeTerms, modeLogRate, modeSum, PAIR, plainMode } from './mode-terms.ts'
import type { Pool } from './pool.ts'

/**
 * The log-likelihood of the records under a model, with derivatives in the coordinates of the fit. It is the full one:
 * no constant is left out, so that it depends on the age unit.
 *
 * ln L = Σ failed ln h(t) − Σ H(end) + Σ H(start) + Σ between ln(S(after) − S(before)), H and h summed over the modes (M1)
 *
 * @param pooled - the records
 * @param form - the model
 * @returns a function of the free figures (ln shape, ln life, logit share, in the order of `coordinatesOf`); its value
 *   is −Infinity where the model cannot have given the records
 * @source Meeker & Escobar (1998), Statistical Methods for Reliability Data, chapters 8, 11 and 15 (recalled)
 */
export function likelihoodOf(pooled: Pool, form: Form): (x: readonly number[]) => Expansion {
  const free = coordinatesOf(form)
  const nModes = form.modes.length
  const nAll = 3 * nModes
  const here = form.modes.map(() => new ModeTerms())
  const there = form.modes.map(() => new ModeTerms())
  const only = here[0]
  const gradient = new Float64Array(nAll)
  // Second derivatives within each mode, six a mode, summed separately from those between modes: most time is spent
  // here.
  const sixes = new Float64Array(6 * nModes)
  const hessian = new Float64Array(nAll * nAll)
  const first = new Float64Array(nAll)
  const second = new Float64Array(nAll)
  const weights = new Float64Array(nModes)

  return x => {
    const modes = modesOfForm(form, x)
    gradient.fill(0)
    hessian.fill(0)
    let value = 0

    sixes.fill(0)
    const addSums = (terms: readonly ModeTerms[], weight: number): void => {
      for (let m = 0; m < nModes; m++) {
        const term = terms[m]
        if (term === undefined) continue
        value += weight * term.sum
        addWeighted(sixes, 6 * m, term.sum2, weight)
        addWeighted(gradient, 3 * m, term.sum1, weight)
      }
    }

    const { exposures, failures, intervals } = pooled
    for (let i = 0; i < exposures.ages.length; i++) {
      if (exposures.weights[i] === 0) continue
      fillAll(modes, Math.log(exposures.ages[i] ?? 0), here)
      addSums(here, -(exposures.weights[i] ?? 0))
    }

    for (let i = 0; i < failures.ages.length; i++) {
      const count = failures.weights[i] ?? 0
      fillAll(modes, Math.log(failures.ages[i] ?? 0), here)
      value += count * hazardShares(here, weights)
      if (nModes === 1 && only !== undefined) {
        addWeighted(sixes, 0, only.logRate2, count)
        addWeighted(gradient, 0, only.logRate1, count)
        continue
      }
      here.forEach((term, mode) => {
        const weight = weights[mode] ?? 0
        addWeighted(sixes, 6 * mode, term.logRate2, count * weight)
        addSquare(sixes, 6 * mode, term.logRate1, count * weight)
        for (let a = 0; a < 3; a++) first[3 * mode + a] = weight * (term.logRate1[a] ?? 0)
      })
      addOuter(hessian, nAll, first, -count)
      addWeighted(gradient, 0, first, count)
    }

    for (let i = 0; i < intervals.counts.length; i++) {
      const count = intervals.counts[i] ?? 0
      const after = intervals.afterAges[i] ?? 0
      fillAll(modes, Math.log(intervals.beforeAges[i] ?? 0), there)
      let difference = total(there)
      second.fill(0)
      writeFirst(there, 1, second)
      if (after > 0) {
        fillAll(modes, Math.log(after), here)
        addSums(here, -count)
        difference -= total(here)
        writeFirst(here, -1, second)
      }
      // ln(1 − exp(−d)), d the cumulative hazard between the two ages
      const odds = 1 / Math.expm1(difference)
      value += count * Math.log(-Math.expm1(-difference))
      there.forEach((term, mode) => {
        addWeighted(sixes, 6 * mode, term.sum2, count * odds)
      })
      if (after > 0) {
        here.forEach((term, mode) => {
          addWeighted(sixes, 6 * mode, term.sum2, -count * odds)
        })
      }
      addOuter(hessian, nAll, second, -count * odds * (1 + odds))
      addWeighted(gradient, 0, second, count * odds)
    }

    for (let m = 0; m < nModes; m++) addBlock(hessian, nAll, m, sixes)
    const places = free.map(({ mode, place }) => 3 * mode + place)
    return {
      value: Number.isFinite(value) ? value : -Infinity,
      gradient: places.map(a => gradient[a] ?? 0),
      hessian: places.map(a => places.map(b => hessian[a * nAll + b] ?? 0)),
    }
  }
}

/**
 * The log-likelihood without derivatives, for the many points a posterior is drawn from.
 *
 * @param pooled - the records
 * @param form - the model
 * @returns a function of the free figures; −Infinity where the model cannot have given the records
 */
export function logLikelihoodOf(pooled: Pool, form: Form): (x: readonly number[]) => number {
  const { exposures, failures, intervals } = pooled
  const exposureLogs = exposures.ages.map(Math.log)
  const failureLogs = failures.ages.map(Math.log)
  return x => {
    const modes = modesOfForm(form, x).map(plainMode)
    const sumAt = (logAge: number): number => {
      let sum = 0
      for (let m = 0; m < modes.length; m++) {
        const mode = modes[m]
        if (mode !== undefined) sum += modeSum(mode, logAge)
      }
      return sum
    }
    let value = 0
    for (let i = 0; i < exposureLogs.length; i++) value -= (exposures.weights[i] ?? 0) * sumAt(exposureLogs[i] ?? 0)
    for (let i = 0; i < failureLogs.length; i++) {
      const logAge = failureLogs[i] ?? 0
      // exp of single rates: their range is far inside that of a number where the value is finite.
      let rate = 0
      for (let m = 0; m < modes.length; m++) {
        const mode = modes[m]
        if (mode !== undefined) rate += Math.exp(modeLogRate(mode, logAge) + logAge)
      }
      value += (failures.weights[i] ?? 0) * (Math.log(rate) - logAge)
    }
    for (let i = 0; i < intervals.counts.length; i++) {
      const after = intervals.afterAges[i] ?? 0
      const sumAfter = after > 0 ? sumAt(Math.log(after)) : 0
      const difference = sumAt(Math.log(intervals.beforeAges[i] ?? 0)) - sumAfter
      value += (intervals.counts[i] ?? 0) * (Math.log(-Math.expm1(-difference)) - sumAfter)
    }
    return Number.isFinite(value) ? value : -Infinity
  }
}

function fillAll(modes: ReturnType<typeof modesOfForm>, logAge: number, terms: readonly ModeTerms[]): void {
  for (let m = 0; m < terms.length; m++) {
    const mode = modes[m]
    const term = terms[m]
    if (mode !== undefined && term !== undefined) fillModeTerms(mode, logAge, term)
  }
}

/** ln of the summed hazard; fills in each mode's share of it. */
function hazardShares(terms: readonly ModeTerms[], weights: Float64Array): number {
  let largest = -Infinity
  for (const term of terms) largest = Math.max(largest, term.logRate)
  let sum = 0
  for (let m = 0; m < terms.length; m++) {
    const share = Math.exp((terms[m]?.logRate ?? -Infinity) - largest)
    weights[m] = share
    sum += share
  }
  for (let m = 0; m < terms.length; m++) weights[m] = (weights[m] ?? 0) / sum
  return largest + Math.log(sum)
}

function total(terms: readonly ModeTerms[]): number {
  let sum = 0
  for (const term of terms) sum += term.sum
  return sum
}

function writeFirst(terms: readonly ModeTerms[], sign: number, into: Float64Array): void {
  terms.forEach((term, mode) => {
    for (let a = 0; a < 3; a++) into[3 * mode + a] = (into[3 * mode + a] ?? 0) + sign * (term.sum1[a] ?? 0)
  })
}

function addWeighted(into: Float64Array, at: number, values: Float64Array, weight: number): void {
  for (let k = 0; k < values.length; k++) into[at + k] = (into[at + k] ?? 0) + weight * (values[k] ?? 0)
}

/** Adds weight · v·vᵀ of three values to six. */
function addSquare(into: Float64Array, at: number, v: Float64Array, weight: number): void {
  for (let a = 0; a < 3; a++) {
    for (let b = a; b < 3; b++) {
      const k = at + (PAIR[a]?.[b] ?? 0)
      into[k] = (into[k] ?? 0) + weight * (v[a] ?? 0) * (v[b] ?? 0)
    }
  }
}

function addBlock(hessian: Float64Array, nAll: number, mode: number, sixes: Float64Array): void {
  for (let a = 0; a < 3; a++) {
    for (let b = 0; b < 3; b++) {
      const at = (3 * mode + a) * nAll + 3 * mode + b
      hessian[at] = (hessian[at] ?? 0) + (sixes[6 * mode + (PAIR[a]?.[b] ?? 0)] ?? 0)
    }
  }
}

function addOuter(hessian: Float64Array, nAll: number, vector: Float64Array, weight: number): void {
  for (let a = 0; a < nAll; a++) {
    const scaled = weight * (vector[a] ?? 0)
    for (let b = 0; b < nAll; b++) hessian[a * nAll + b] = (hessian[a * nAll + b] ?? 0) + scaled * (vector[b] ?? 0)
  }
}
