import { power } from '../numerics/power.ts'
import { capital } from '../plain-text.ts'
import { chiSquareTail } from './checks/chi-square-tail.ts'
import type { GroupTest } from './checks/log-rank.ts'
import type { Fit } from './likelihood/fit-model.ts'

/** AICc units within which the plainer model is kept (a common rule of thumb; ours to use it). */
const CLOSE = 2

/**
 * AIC with the correction for small samples. n is the number of failures, not of units: units still working add little
 * to what is known of the shape (our choice, on the careful side).
 * AICc = −2 ln L + 2k + 2k(k+1)/(n − k − 1)
 *
 * @param fit - a fitted model
 * @returns null where n <= k + 1
 * @source Hurvich & Tsai (1989), Biometrika 76, 297–307 (recalled)
 */
export function aiccOf(fit: Fit): number | null {
  const k = fit.x.length
  const n = fit.pooled.nFailed
  if (n <= k + 1) return null
  return -2 * fit.logLikelihood + 2 * k + (2 * k * (k + 1)) / (n - k - 1)
}

/**
 * Whether a richer model is worth its further figures, by likelihood ratio. The χ² distribution with the number of
 * further figures is on the careful side where the plainer model lies at the edge of the richer one.
 *
 * @param richer - its fit
 * @param plainer - the fit of the model it extends
 */
export function ratioTest(richer: Fit, plainer: Fit): GroupTest {
  const chiSquare = Math.max(0, 2 * (richer.logLikelihood - plainer.logLikelihood))
  const degreesOfFreedom = richer.x.length - plainer.x.length
  return { chiSquare, degreesOfFreedom, pValue: chiSquareTail(chiSquare, degreesOfFreedom) }
}

/**
 * The model in use: the plainest whose AICc is within 2 of the lowest.
 *
 * @param fits - at least one, plainest first
 * @returns the fit and the reason in a sentence
 */
export function chooseModel(fits: readonly [Fit, ...Fit[]]): { best: Fit; choice: string } {
  const [plainest, ...richer] = fits
  const scored = fits.map(fit => ({ fit, aicc: aiccOf(fit) }))
  const known = scored.flatMap(({ aicc }) => (aicc === null ? [] : [aicc]))
  const lowest = Math.min(...known)
  const best = scored.find(({ aicc }) => aicc !== null && aicc <= lowest + CLOSE)?.fit ?? plainest
  if (fits.length === 1) return { best, choice: onlyOne(plainest) }
  if (best === plainest) {
    const names = richer.map(fit => fit.model.label)
    return {
      best,
      choice: `${capital(plainest.model.label)} is enough: ${joinWith(names, 'or')} would explain the records hardly better.`,
    }
  }
  const test = ratioTest(best, plainest)
  return {
    best,
    choice: `${capital(best.model.label)} fits clearly better than ${plainest.model.label}: chance alone would give so large a gain ${oneIn(test.pValue)}.`,
  }
}

/**
 * A small chance in words.
 *
 * @param chance - [0, 1]
 * @example oneIn(0.021) // 'about once in 50 times'
 */
export function oneIn(chance: number): string {
  if (chance < 0.001) return 'less than once in 1,000 times'
  if (chance > 0.3) return `about ${Math.round(chance * 10)} times in 10`
  const times = 1 / chance
  const step = power(10, Math.floor(Math.log10(times)))
  return `about once in ${(Math.round(times / step) * step).toLocaleString('en-GB')} times`
}

function onlyOne(fit: Fit): string {
  const few = fit.pooled.nFailed
  if (fit.model.name === 'weibull-fixed-shape') return 'The shape was given, so that only the life was estimated.'
  return few < 10
    ? `With ${few} ${few === 1 ? 'failure' : 'failures'} nothing richer than one Weibull curve can be distinguished from chance.`
    : `${capital(fit.model.label)} is the only model that led to a sound fit.`
}

function joinWith(words: readonly string[], and: string): string {
  return words.length < 2 ? (words[0] ?? '') : `${words.slice(0, -1).join(', ')} ${and} ${words.at(-1)}`
}
