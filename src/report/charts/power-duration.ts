import type { PowerDuration } from '../../energy/duration.ts'
import { lineChart } from './lines.ts'
import { type Look, optionLook } from './look.ts'
import type { Words } from './svg.ts'

/**
 * The hours of a year sorted by power: what an option would give without its limit, what it gives, and the limit.
 *
 * @param words - title and description
 * @param duration - hours and powers
 * @param place - place of the option, sets the look
 * @param letter - id of the option
 * @param limit - words at the limit; null where no rating is given
 * @param write - a number as text
 * @returns markup
 */
export function powerDurationChart(
  words: Words,
  duration: PowerDuration,
  place: number,
  letter: string,
  limit: string | null,
  write: (value: number, step: number) => string,
): string {
  const points = (kw: readonly number[]) => duration.hours.map((x, i) => ({ x, y: kw[i] ?? 0 }))
  const top = Math.max(duration.unlimitedKw[0] ?? 0, duration.ratingKw ?? 0)
  return lineChart(words, {
    series: [
      { points: points(duration.unlimitedKw), look: withoutLimit(place), end: null },
      { points: points(duration.limitedKw), look: optionLook(place), end: { letter, place } },
    ],
    ...(duration.ratingKw === null || limit === null
      ? {}
      : { level: { y: duration.ratingKw, words: limit, atRight: true } }),
    xName: 'hours of the year with at least this power',
    yName: 'kW',
    writeX: value => write(value, 1),
    writeY: value => write(value, top < 10 ? 0.1 : 1),
    yMust: [0, top * 1.05],
  })
}

/**
 * Look of the line without limit: the option's colour, dotted.
 *
 * @param place - place of the option
 */
export function withoutLimit(place: number): Look {
  return { colour: optionLook(place).colour, dash: '1 4' }
}
