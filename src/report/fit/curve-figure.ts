import { unitsPerYear } from '../../fitting/age-unit.ts'
import type { FitResult, GroupResult } from '../../fitting/fit-result.ts'
import { lineChart, type Point } from '../charts/lines.ts'
import { lineKey, markKey, optionLook } from '../charts/look.ts'
import { element } from '../charts/svg.ts'
import type { Picture } from '../content.ts'
import { formatShare } from '../format/share.ts'
import { bestModel, figure, shareFailedWords } from './words.ts'

const CURVE = { ...optionLook(0), dash: 'none' }
const SEEN = { ...optionLook(1), dash: '5 2' }

/** Points along the curve. */
const N_POINTS = 100

/**
 * The picture of a group: share failed by age, the curve with its range, and what was seen.
 *
 * @param result - the fit
 * @param group - a group with a model in use
 * @param id - prefix of ids, unique in the page
 */
export function curveFigure(result: FitResult, group: GroupResult, id: string): Picture {
  const modes = bestModel(group)?.modes ?? []
  const end = Math.max(25 * unitsPerYear(result.ageUnit), group.oldestAge)
  const ages = Array.from({ length: N_POINTS + 1 }, (_, i) => (end * i) / N_POINTS)
  const curve = ages.map(x => ({ x, y: x === 0 ? 0 : shareFailedWords(modes, x) }))
  const range = ages.map(x => ({ x, ...rangeAt(group, x) }))
  const seen = seenBand(group)
  const name = `age, ${result.ageUnit}`
  return {
    heading: 'Share of units failed by age',
    key: [
      lineKey(CURVE, 'the fitted curve'),
      markKey(
        element('rect', { x: 1, y: 3, width: 30, height: 14, class: `band ${CURVE.colour}` }),
        'where it lies in 9 of 10 cases',
      ),
      lineKey(
        SEEN,
        group.survivalMethod === 'turnbull' ? 'seen, spread between inspections' : 'seen, without any curve',
      ),
      ...(seen.length === 0
        ? []
        : [
            markKey(
              element('rect', { x: 1, y: 3, width: 30, height: 14, class: `band ${SEEN.colour}` }),
              'range of what was seen, 9 of 10 cases at each age',
            ),
          ]),
    ],
    svg: lineChart(
      {
        id,
        title: `Share failed by age: ${group.name}`,
        description: `The fitted curve reaches ${formatShare(shareFailedWords(modes, end / 2))} at ${figure(end / 2)} ${result.ageUnit} and ${formatShare(shareFailedWords(modes, end))} at ${figure(end)}. The figures are in the table.`,
      },
      {
        series: [
          { points: curve, look: CURVE, end: { words: 'curve' } },
          { points: seenPoints(group), look: SEEN, end: { words: '' } },
        ],
        bands: [
          { points: range, colour: CURVE.colour },
          ...(seen.length === 0 ? [] : [{ points: seen, colour: SEEN.colour }]),
        ],
        xName: name,
        yName: 'share failed',
        writeX: value => String(value),
        writeY: value => formatShare(value),
        yMust: [0, Math.min(1, 1.1 * Math.max(...curve.map(point => point.y)))],
      },
    ),
  }
}

/** The share failed as it was seen: steps, level between failures, to the oldest age. */
function seenPoints(group: GroupResult): Point[] {
  const points: Point[] = [{ x: 0, y: 0 }]
  let failed = 0
  for (const { age, estimate } of group.survival) {
    points.push({ x: age, y: failed }, { x: age, y: 1 - estimate })
    failed = 1 - estimate
  }
  if (failed < 1) points.push({ x: group.oldestAge, y: failed })
  return points
}

/** 5 % and 95 % points of the share failed, over the joint draws. */
function rangeAt(group: GroupResult, age: number): { low: number; high: number } {
  if (age === 0 || group.draws === null) return { low: 0, high: 0 }
  const shares = Float64Array.from(group.draws.values, set =>
    shareFailedWords(
      set.map(([shape, characteristicLife, susceptible]) => ({ shape, characteristicLife, susceptible })),
      age,
    ),
  ).sort()
  const at = (p: number): number => shares[Math.round(p * (shares.length - 1))] ?? 0
  return { low: at(0.05), high: at(0.95) }
}

/** Range of the share failed as it was seen, level between failures; empty where none is known. */
function seenBand(group: GroupResult): { x: number; low: number; high: number }[] {
  const points: { x: number; low: number; high: number }[] = []
  let last = { low: 0, high: 0 }
  for (const { age, low90, high90 } of group.survival) {
    if (low90 === null || high90 === null) break
    if (points.length > 0) points.push({ x: age, ...last })
    last = { low: 1 - high90, high: 1 - low90 }
    points.push({ x: age, ...last })
  }
  if (points.length > 0 && group.survival.at(-1)?.low90 !== null) points.push({ x: group.oldestAge, ...last })
  return points
}
