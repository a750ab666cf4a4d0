import { oneIn } from '../../fitting/choose-model.ts'
import { saidOf } from '../../fitting/failure-block.ts'
import type { FitResult, GroupResult } from '../../fitting/fit-result.ts'
import { lineChart } from '../charts/lines.ts'
import { lineKey, markKey, optionLook } from '../charts/look.ts'
import { element } from '../charts/svg.ts'
import { type Finding, finding, type MarginNote, table } from '../content.ts'
import { plainName } from '../names.ts'
import { curveFigure } from './curve-figure.ts'
import { straightLineFigure } from './straight-line-figure.ts'
import { bestModel, type FitWords, figure, shapeWords, shareWords } from './words.ts'

/** Place of a group in the report: its words, and a prefix of ids. */
export interface GroupPlace {
  readonly result: FitResult
  readonly group: GroupResult
  readonly words: FitWords
  readonly id: string
}

/**
 * How long the units of a group last.
 *
 * @param place - a group
 */
export function lifeFinding({ result, group, words, id }: GroupPlace): Finding {
  const name = result.groups.length === 1 ? '' : `${plainName(group.name)}: `
  const model = bestModel(group)
  if (model === null || group.b10 === null || group.meanLife === null) return boundFinding({ result, group, words, id })
  const parameters = Object.entries(model.parameters)
  const shape = model.parameters.shape ?? model.parameters.shape1
  const several = model.modes.length > 1
  return finding({
    id: `${id}-life`,
    topic: 'life and curve',
    sentence: `${name === '' ? 'One' : `${name}one`} unit in ten has failed by ${words.age(group.b10.estimate)}; the mean life is ${words.age(group.meanLife.estimate)}.`,
    paragraphs: [
      `The records make ${words.ageRange(group.b10.profile90)} likely for the first figure and ${words.ageRange(group.meanLife.profile90)} for the mean, each in 9 of 10 cases.`,
      ...(several || shape === undefined ? [] : [shapeWords(shape)]),
      group.choice,
    ],
    figures: [curveFigure(result, group, `${id}-curve`)],
    tables: [
      table(
        caption('Share failed', result, group),
        ['By the end of', '#Failed', '#In 19 of 20 cases', 'Seen or extrapolated'],
        group.failedBy.map(({ years, age, estimate, profile95 }) => [
          `year ${years}`,
          shareWords(estimate),
          words.shareRange(profile95),
          age <= group.oldestAge ? 'seen' : 'extrapolated',
        ]),
        ['"Extrapolated": no unit was watched that long; the figure follows the curve beyond the records.'],
      ),
      table(
        caption('The curve in figures', result, group),
        ['Figure', '#Best', '#In 19 of 20 cases'],
        [
          ...parameters.map(([key, parameter]) =>
            key.startsWith('susceptible')
              ? [
                  parameterName(key, model.modes.length),
                  shareWords(parameter.estimate),
                  words.shareRange(parameter.profile95 ?? [null, null]),
                ]
              : key.startsWith('shape')
                ? [
                    parameterName(key, model.modes.length),
                    figure(parameter.estimate),
                    words.numberRange(parameter.profile95 ?? [null, null]),
                  ]
                : [
                    parameterName(key, model.modes.length),
                    words.age(parameter.estimate),
                    words.ageRange(parameter.profile95 ?? [null, null]),
                  ],
          ),
          ['B10 life (one in ten failed)', words.age(group.b10.estimate), words.ageRange(group.b10.profile95)],
          ['Mean life', words.age(group.meanLife.estimate), words.ageRange(group.meanLife.profile95)],
        ],
        fixedRemarks(group),
      ),
    ],
    margin: margin(result, group),
  })
}

/**
 * Whether curve and records agree.
 *
 * @param place - a group
 * @returns none without a curve
 */
export function agreementFinding({ result, group, words, id }: GroupPlace): Finding[] {
  const { goodness } = group
  if (bestModel(group) === null || goodness === null) return []
  const name = result.groups.length === 1 ? '' : `${plainName(group.name)}: `
  const plot = straightLineFigure(result, group, `${id}-plot`)
  const p = goodness.pValue
  const verdict =
    p === null
      ? goodness.bands.length === 0
        ? 'some failures are known only between two visits, so look at the picture to judge the curve.'
        : 'there are too few failures to test the curve; look at the picture.'
      : p < 0.05
        ? 'the curve and the records disagree more than chance explains.'
        : 'the curve and the records agree.'
  return [
    finding({
      id: `${id}-agreement`,
      topic: 'curve against records',
      sentence: `${name}${verdict}`,
      paragraphs:
        p === null
          ? []
          : [`If the curve were true, chance alone would give a disagreement as large as this ${oneIn(p)}.`],
      figures: plot === null ? [] : [plot],
      tables:
        goodness.bands.length === 0
          ? []
          : [
              table(
                caption('Failures seen and expected, by age', result, group),
                ['From', 'To', '#Seen', '#Expected'],
                goodness.bands.map(band => [
                  words.age(band.fromAge),
                  words.age(band.toAge),
                  String(band.seen),
                  figure(Number(band.expected.toFixed(1))),
                ]),
              ),
            ],
      margin: [{ known: 'Yours', text: 'Your records against the curve drawn from them.' }],
    }),
  ]
}

/**
 * Failures a place has had, through its replacements.
 *
 * @param place - a group
 * @returns none without repeated failures
 */
export function repeatedFinding({ result, group, words, id }: GroupPlace): Finding[] {
  const last = group.meanCumulative?.at(-1)
  if (group.meanCumulative === null || last === undefined) return []
  const name = result.groups.length === 1 ? '' : `${plainName(group.name)}: `
  const look = { ...optionLook(2), dash: 'none' }
  const middle = group.meanCumulative.findLast(step => step.slotsWatched >= 10) ?? last
  return [
    finding({
      id: `${id}-repeated`,
      topic: 'repeated failures',
      sentence: `${name}a place has had ${figure(middle.estimate)} failures on average by ${words.age(middle.age)}, replacements included.`,
      paragraphs: [
        `The range is ${words.numberRange([middle.low95, middle.high95])} in 19 of 20 cases. Beyond ${words.age(middle.age)} fewer than ten places were watched.`,
      ],
      figures: [
        {
          heading: 'Failures in one place, on average, by age of the place',
          key: [
            lineKey(look, 'mean number of failures'),
            markKey(
              element('rect', { x: 1, y: 3, width: 30, height: 14, class: `band ${look.colour}` }),
              'in 19 of 20 cases',
            ),
          ],
          svg: lineChart(
            {
              id: `${id}-mcf`,
              title: `Failures in one place: ${group.name}`,
              description: `The mean number of failures in one place reaches ${figure(middle.estimate)} by ${words.age(middle.age)}.`,
            },
            {
              series: [
                {
                  points: group.meanCumulative.map(step => ({ x: step.age, y: step.estimate })),
                  look,
                  end: { words: 'mean' },
                },
              ],
              bands: [
                {
                  points: group.meanCumulative.map(step => ({
                    x: step.age,
                    low: step.low95,
                    high: Math.min(step.high95, 2.5 * last.estimate),
                  })),
                  colour: look.colour,
                },
              ],
              xName: `age of the place, ${result.ageUnit}`,
              yName: 'failures',
              writeX: value => String(value),
              writeY: value => figure(value),
              yMust: [0, last.estimate],
            },
          ),
        },
      ],
      margin: [{ known: 'Yours', text: 'Counted from your records; no curve is assumed.' }],
    }),
  ]
}

function boundFinding({ result, group, words, id }: GroupPlace): Finding {
  const name = result.groups.length === 1 ? '' : `${plainName(group.name)}: `
  return finding({
    id: `${id}-bound`,
    topic: 'least life',
    sentence: `${name}no curve can be drawn; the records only set a least life.`,
    paragraphs: [group.choice],
    tables: [
      table(
        caption('Characteristic life that the units surpass, with 90 % confidence', result, group),
        ['If the shape is', '#Life over'],
        group.lifeBounds.map(bound => [figure(bound.shape), words.age(bound.characteristicLife)]),
        ['The shape is assumed: 1 means a steady risk, 2 and 3 a risk that rises with age.'],
      ),
    ],
    margin: margin(result, group),
  })
}

function margin(result: FitResult, group: GroupResult): MarginNote[] {
  const notes: MarginNote[] = [{ known: 'Yours', text: `${saidOf([group])}.` }]
  if (result.prior !== null)
    notes.push({ known: 'Yours', text: 'A belief held before these records is included (prior).' })
  return notes
}

function parameterName(key: string, nModes: number): string {
  const number = /\d$/.exec(key)?.[0]
  const of = number === undefined ? '' : ` of cause ${number}`
  if (key.startsWith('shape')) return `Shape${of}`
  if (key.startsWith('susceptible')) return 'Share of units with a fault from the start'
  return nModes > 1 && number === undefined ? 'Characteristic life of wear' : `Characteristic life${of} (63.2 % failed)`
}

function fixedRemarks(group: GroupResult): string[] {
  if (group.best === 'weibull+early') {
    return ['Early faults follow a fixed curve (shape 0.7, life 1 year: a judgement); only their share is estimated.']
  }
  return group.best === 'weibull-fixed-shape' ? ['The shape was given and not estimated.'] : []
}

/** Captions are unique in a page: with several groups the name is added. */
function caption(text: string, result: FitResult, group: GroupResult): string {
  return result.groups.length === 1 ? text : `${text}: ${plainName(group.name)}`
}
