/**
 * The few pieces every chart is made of. Coordinates are rounded to 0.1; text stays text.
 */

import { visible } from '../../plain-text.ts'

/** Width of every chart in its own units; the page scales it. */
export const CHART_WIDTH = 460

/** Attributes of an element; numbers are rounded to 0.1. */
export type Attributes = Readonly<Record<string, string | number>>

/**
 * Text made safe inside markup.
 *
 * @param text - any text
 * @returns the text with & < > and quotes as entities
 */
export function escapeMarkup(text: string): string {
  return visible(text)
    .replace(/&/g, '&amp;')
    .replace(/</g, '&lt;')
    .replace(/>/g, '&gt;')
    .replace(/"/g, '&quot;')
    .replace(/'/g, '&#39;')
}

/**
 * A coordinate rounded to 0.1.
 *
 * @param value - any finite number
 * @returns the shortest text of it; `0` for -0
 * @throws RangeError for a number that is not finite: a chart with NaN in it is blank, without an error
 */
export function coordinate(value: number): string {
  if (!Number.isFinite(value)) throw new RangeError('a chart coordinate is not finite')
  const rounded = Math.round(value * 10) / 10
  return String(rounded === 0 ? 0 : rounded)
}

/**
 * One element.
 *
 * @param tag - element name
 * @param attributes - values are escaped
 * @param children - ready-made markup
 * @returns markup
 */
export function element(tag: string, attributes: Attributes, ...children: readonly string[]): string {
  const text = Object.entries(attributes)
    .map(([key, value]) => ` ${key}="${typeof value === 'number' ? coordinate(value) : escapeMarkup(value)}"`)
    .join('')
  return children.length === 0 ? `<${tag}${text}/>` : `<${tag}${text}>${children.join('')}</${tag}>`
}

/**
 * A piece of text in a chart.
 *
 * @param x - place
 * @param y - baseline
 * @param words - plain text
 * @param anchor - start, middle or end
 * @param style - class
 * @returns markup
 */
export function label(
  x: number,
  y: number,
  words: string,
  anchor: 'start' | 'middle' | 'end' = 'start',
  style = 'label',
): string {
  return element('text', { x, y, 'text-anchor': anchor, class: style }, escapeMarkup(words))
}

/**
 * A straight line.
 *
 * @returns markup
 */
export function rule(x1: number, y1: number, x2: number, y2: number, style: string): string {
  return element('line', { x1, y1, x2, y2, class: style })
}

/** What a chart says to someone who does not see it. */
export interface Words {
  /** Prefix of ids, unique in the page. */
  readonly id: string
  readonly title: string
  readonly description: string
}

/**
 * A whole chart.
 *
 * @param words - title and description
 * @param height - in chart units
 * @param children - ready-made markup
 * @returns `<svg role="img">` with its text alternative
 */
export function chart(words: Words, height: number, ...children: readonly string[]): string {
  return element(
    'svg',
    {
      class: 'chart',
      viewBox: `0 0 ${CHART_WIDTH} ${coordinate(height)}`,
      role: 'img',
      'aria-labelledby': `${words.id}-t ${words.id}-d`,
    },
    element('title', { id: `${words.id}-t` }, escapeMarkup(words.title)),
    element('desc', { id: `${words.id}-d` }, escapeMarkup(words.description)),
    ...children,
  )
}
