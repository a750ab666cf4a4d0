import type { ScaleLinear } from 'd3-scale'
import { label, rule } from './svg.ts'

/** Where the drawing lies inside a chart, in chart units. */
export interface Box {
  readonly left: number
  readonly right: number
  readonly top: number
  readonly bottom: number
}

/** A scale of numbers. */
export type Scale = ScaleLinear<number, number>

/**
 * Axis along the bottom with ticks up through the drawing.
 *
 * @param scale - values to x
 * @param box - the drawing
 * @param write - a tick value as text; '' for no text
 * @param name - what the axis shows, with its unit
 * @param nTicks - about how many
 * @returns markup
 */
export function bottomAxis(scale: Scale, box: Box, write: (value: number) => string, name: string, nTicks = 5): string {
  const ticks = distinct(scale.ticks(nTicks), write)
  return (
    ticks
      .map(value => rule(scale(value), box.top, scale(value), box.bottom, 'grid'))
      .concat(
        ticks
          .filter(value => write(value) !== '')
          .map(value => label(scale(value), box.bottom + 18, write(value), 'middle', 'tick')),
      )
      .join('') +
    rule(box.left, box.bottom, box.right, box.bottom, 'axis') +
    label((box.left + box.right) / 2, box.bottom + 38, name, 'middle', 'axis-name')
  )
}

/**
 * Axis along the left with ticks across the drawing; its name is above it.
 *
 * @param scale - values to y
 * @param box - the drawing
 * @param write - a tick value as text
 * @param name - what the axis shows, with its unit
 * @param nTicks - about how many
 * @returns markup
 */
export function leftAxis(scale: Scale, box: Box, write: (value: number) => string, name: string, nTicks = 5): string {
  return (
    distinct(scale.ticks(nTicks), write)
      .map(
        value =>
          rule(box.left, scale(value), box.right, scale(value), 'grid') +
          label(box.left - 6, scale(value) + 4.5, write(value), 'end', 'tick'),
      )
      .join('') + label(0, box.top - 10, name, 'start', 'axis-name')
  )
}

/** Ticks whose text is not empty and differs from that of the tick before: in whole units, 0.5 and 1 are both written 1. */
function distinct(ticks: readonly number[], write: (value: number) => string): number[] {
  return ticks.filter((value, index) => write(value) !== '' && write(value) !== write(ticks[index - 1] ?? Number.NaN))
}
