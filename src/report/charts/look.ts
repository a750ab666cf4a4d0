/**
 * How options and parts are distinguished: letter, line pattern and colour together; each alone is enough.
 *
 * @source Okabe, M. and Ito, K. (2008), Color Universal Design (CUD): how to make figures and presentations that are
 * friendly to colorblind people. The eight colours are in `report-templates/styles.eta` as `--c0` to `--c7`.
 */
import type { KeyEntry } from '../content.ts'
import { element, label } from './svg.ts'

const N_COLOURS = 8

// Ours: eight patterns that look different at a line width of 2.
const DASHES = ['none', '8 4', '2 3', '10 3 2 3', '14 4', '5 2 1 2', '1 4', '12 2 2 2 2 2']

/** Class and dash of a line. */
export interface Look {
  readonly colour: string
  readonly dash: string
}

/**
 * Look of an option by its place in the scenario. From the ninth option on, a colour is used again with another dash.
 *
 * @param place - from 0
 * @returns class of the colour and dash array
 */
export function optionLook(place: number): Look {
  const round = Math.floor(place / N_COLOURS)
  return {
    colour: `c${place % N_COLOURS}`,
    dash: DASHES[(place + round) % DASHES.length] ?? 'none',
  }
}

/**
 * The letter of an option as a small disc.
 *
 * @param x - centre
 * @param y - centre
 * @param letter - id of the option
 * @param place - from 0
 * @returns markup
 */
export function badge(x: number, y: number, letter: string, place: number): string {
  const { colour } = optionLook(place)
  return (
    element('circle', { cx: x, cy: y, r: letter.length > 1 ? 11 : 9, class: `disc ${colour}` }) +
    label(x, y + 4.5, letter, 'middle', 'letter')
  )
}

/**
 * The patterns that a chart fills areas with; each chart includes them once.
 *
 * @param id - prefix, unique in the page
 * @returns `<defs>`
 */
export function fills(id: string): string {
  const tile = (index: number, size: number, ...marks: readonly string[]): string =>
    element(
      'pattern',
      { id: `${id}-f${index}`, width: size, height: size, patternUnits: 'userSpaceOnUse' },
      element('rect', { width: size, height: size, class: `tile c${fillColour(index)}` }),
      ...marks,
    )
  const stroke = (d: string): string => element('path', { d, class: 'hatch' })
  return element(
    'defs',
    {},
    tile(0, 8),
    tile(1, 7, stroke('M0 7L7 0M-1 1L1 -1M6 8L8 6')),
    tile(2, 6, element('circle', { cx: 3, cy: 3, r: 1.3, class: 'speck' })),
    tile(3, 6, stroke('M0 3H6')),
    tile(4, 7, stroke('M0 0L7 7M-1 6L1 8M6 -1L8 1')),
    tile(5, 6, stroke('M3 0V6')),
    tile(6, 8, stroke('M0 4H8M4 0V8')),
  )
}

// The first part, what is paid at the start, is neutral; the rest follow the order of optionLook.
function fillColour(index: number): string {
  return index === 0 ? 'n' : String((index - 1) % N_COLOURS)
}

/**
 * Key of filled parts.
 *
 * @param id - prefix of the chart whose patterns are used
 * @param labels - one a part, in order
 * @returns entries with a drawn sample
 */
export function fillKey(id: string, labels: readonly string[]): KeyEntry[] {
  return labels.map((words, index) => ({
    label: words,
    svg: sample(element('rect', { x: 1, y: 3, width: 30, height: 14, class: 'slice', fill: `url(#${id}-f${index})` })),
  }))
}

/**
 * Key of options drawn as lines.
 *
 * @param options - letter, name and place
 * @returns entries with a drawn sample
 */
export function optionKey(
  options: readonly { readonly letter: string; readonly name: string; readonly place: number }[],
): KeyEntry[] {
  return options.map(({ letter, name, place }) => ({ label: name, svg: lineSample(optionLook(place), letter, place) }))
}

/**
 * A sample of a line without letter.
 *
 * @param look - colour class and dash
 * @param words - what the line is
 * @returns one entry
 */
export function lineKey(look: Look, words: string): KeyEntry {
  return { label: words, svg: sample(line(look)) }
}

/**
 * A sample of any mark.
 *
 * @param mark - markup in a box of 32 by 20
 * @param words - what the mark is
 * @returns one entry
 */
export function markKey(mark: string, words: string): KeyEntry {
  return { label: words, svg: sample(mark) }
}

function line(look: Look): string {
  return element('path', { d: 'M1 10H31', class: `line ${look.colour}`, 'stroke-dasharray': look.dash })
}

function lineSample(look: Look, letter: string, place: number): string {
  return sample(
    element('path', { d: 'M20 10H62', class: `line ${look.colour}`, 'stroke-dasharray': look.dash }) +
      badge(10, 10, letter, place),
    64,
  )
}

function sample(mark: string, width = 32): string {
  return element(
    'svg',
    {
      class: width > 32 ? 'sample wide' : 'sample',
      viewBox: `0 0 ${width} 20`,
      'aria-hidden': 'true',
      focusable: 'false',
    },
    mark,
  )
}
