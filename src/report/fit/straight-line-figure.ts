import type { FitResult, GroupResult } from '../../fitting/fit-result.ts'
import { power } from '../../numerics/power.ts'
import { lineKey, markKey, optionLook } from '../charts/look.ts'
import { CHART_WIDTH, chart, element, label, rule } from '../charts/svg.ts'
import type { Picture } from '../content.ts'
import { bestModel, shareFailedWords, shareWords } from './words.ts'

const SHARES = [0.001, 0.002, 0.005, 0.01, 0.02, 0.05, 0.1, 0.2, 0.5, 0.8, 0.95, 0.99, 0.999]
const STEPS = [1, 2, 5]
/** Chart units between two points (ours). */
const LEAST_APART = 8
const BOX = { left: 62, right: CHART_WIDTH - 20, top: 30, bottom: 260 }

/**
 * Weibull probability plot: on these axes one Weibull curve is a straight line, so a bend in the points shows that
 * one curve does not fit.
 *
 * @param result - the fit
 * @param group - a group with at least three points
 * @param id - prefix of ids, unique in the page
 * @returns null where there are fewer points
 */
export function straightLineFigure(result: FitResult, group: GroupResult, id: string): Picture | null {
  const seen = group.probabilityPlot.filter(({ age, shareFailed: y }) => age > 0 && y > 0 && y < 1)
  const modes = bestModel(group)?.modes ?? []
  const first = seen[0]
  const last = seen.at(-1)
  if (seen.length < 3 || first === undefined || last === undefined || modes.length === 0) return null
  const up = (y: number): number => Math.log(-Math.log1p(-y))
  const from = Math.log(first.age)
  const to = Math.log(Math.max(last.age, group.oldestAge, first.age * 1.1))
  const line = Array.from({ length: 81 }, (_, i) => from + ((to - from) * i) / 80).map(logAge => ({
    logAge,
    height: up(Math.min(1 - 1e-9, Math.max(1e-9, shareFailedWords(modes, Math.exp(logAge))))),
  }))
  const heights = [...line.map(point => point.height), ...seen.map(point => up(point.shareFailed))]
  const x = between(from, to, BOX.left, BOX.right)
  const low = Math.min(...heights) - 0.2
  const high = Math.max(...heights) + 0.2
  const y = between(low, high, BOX.bottom, BOX.top)
  const look = { ...optionLook(0), dash: 'none' }
  const dot = (cx: number, cy: number): string => element('circle', { cx, cy, r: 2.6, class: 'dot' })
  const d = line
    .map((point, i) => `${i === 0 ? 'M' : 'L'}${x(point.logAge).toFixed(1)} ${y(point.height).toFixed(1)}`)
    .join('')
  return {
    heading: 'Failures on axes that make one Weibull curve a straight line',
    key: [lineKey(look, 'the fitted curve'), markKey(dot(16, 10), 'failures, at the share failed by then')],
    svg: chart(
      {
        id,
        title: `Probability plot: ${group.name}`,
        description: `${seen.length} points from ${first.age.toPrecision(3)} to ${last.age.toPrecision(3)} ${result.ageUnit}; the closer they lie to the line, the better the curve fits.`,
      },
      BOX.bottom + 46,
      ...SHARES.filter(value => up(value) > low && up(value) < high).map(
        value =>
          rule(BOX.left, y(up(value)), BOX.right, y(up(value)), 'grid') +
          label(BOX.left - 6, y(up(value)) + 4.5, shareWords(value), 'end', 'tick'),
      ),
      label(0, BOX.top - 10, 'share failed', 'start', 'axis-name'),
      ...roundAges(Math.exp(from), Math.exp(to)).map(
        age =>
          rule(x(Math.log(age)), BOX.top, x(Math.log(age)), BOX.bottom, 'grid') +
          label(x(Math.log(age)), BOX.bottom + 18, String(age), 'middle', 'tick'),
      ),
      rule(BOX.left, BOX.bottom, BOX.right, BOX.bottom, 'axis'),
      label((BOX.left + BOX.right) / 2, BOX.bottom + 38, `age, ${result.ageUnit}`, 'middle', 'axis-name'),
      element('path', { d, class: `line ${look.colour}` }),
      ...apart(seen.map(point => [x(Math.log(point.age)), y(up(point.shareFailed))] as const)).map(([cx, cy]) =>
        dot(cx, cy),
      ),
    ),
  }
}

/** Linear map of one interval onto another. */
function between(from: number, to: number, start: number, end: number): (value: number) => number {
  return value => start + ((end - start) * (value - from)) / (to - from)
}

/** Drops points closer than LEAST_APART to the last one kept; the first and the last stay. */
function apart(points: readonly (readonly [number, number])[]): (readonly [number, number])[] {
  const kept: (readonly [number, number])[] = []
  points.forEach((point, i) => {
    const last = kept.at(-1)
    const far = last === undefined || Math.hypot(point[0] - last[0], point[1] - last[1]) >= LEAST_APART
    if (far || i === points.length - 1) kept.push(point)
  })
  return kept
}

/** 1, 2, 5, 10, … between two ages; only powers of ten where these would crowd. */
function roundAges(from: number, to: number): number[] {
  const ages: number[] = []
  const steps = to / from > 2000 ? [1] : STEPS
  for (let digits = Math.floor(Math.log10(from)); digits <= Math.log10(to); digits++) {
    for (const step of steps) {
      const age = Number((step * power(10, digits)).toPrecision(1))
      if (age >= from && age <= to) ages.push(age)
    }
  }
  return ages
}
