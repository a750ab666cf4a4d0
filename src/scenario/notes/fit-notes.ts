import { TOPOLOGIES } from '../../topologies/index.ts'
import { isCentralInverter, isPanelInverter, isSunInverter } from '../../topologies/kinds.ts'
import type { Note } from '../model/assumption.ts'
import type { Option, Scenario, Site } from '../model.ts'
import type { RoofArray } from '../roof.ts'
import { lightNotes } from './light-notes.ts'

/** Rounding of ratios as data sheets round them: 1.3333 passes a limit of 1.33. Ours. */
const RATIO_SLACK = 0.005

/** Words in `includes` that mean work. */
const EXTRA_WORK = ['battery', 'switchboard'] as const

/**
 * What does not fit this roof, option by option (E8). Limits are inputs; local network rules decide, and the notes say
 * so.
 *
 * @param scenario - its site and options
 * @returns notes in order of the options; those of the whole roof first
 */
export function fitNotes(scenario: Pick<Scenario, 'site' | 'options'>): Note[] {
  const { generation } = scenario.site
  const arrays = generation.form === 'arrays' ? generation.arrays : null
  return [
    ...wholeRoof(arrays),
    ...(generation.form === 'arrays' ? lightNotes(generation.location) : [energyAsGiven()]),
    ...extraWork(scenario.options),
    ...scenario.options.flatMap(option => [
      ...panelsAgainstInverters(option, panelsOn(scenario.site), scenario.site.network.maxDcAcRatio),
      ...networkLimit(option, scenario.site.network),
      ...(arrays === null ? [] : [...inputs(option, arrays), ...shadeOnStrings(option, arrays)]),
    ]),
  ]
}

function wholeRoof(arrays: readonly RoofArray[] | null): Note[] {
  if (arrays === null) {
    return [
      note(
        'shade-not-given',
        null,
        'No arrays and no shade are given, so no harvest gain of panel-level tracking is counted beyond design_losses.',
      ),
    ]
  }
  if (arrays.some(isShaded)) return []
  return [note('shade-not-given', null, 'No shade is given, so tracking each panel gains almost nothing here.')]
}

function energyAsGiven(): Note {
  return note(
    'energy-as-given',
    null,
    'The energy is taken as given and is as good as its source; it was not checked against the light of the place.',
  )
}

/** Where the prices do not hold the same things, as far as the options say. */
function extraWork(options: readonly Option[]): Note[] {
  const words = new Set(options.flatMap(({ includes }) => includes))
  return [...words].flatMap(word => {
    const having = options.filter(({ includes }) => includes.includes(word)).map(({ name }) => name)
    const others = options.filter(({ includes }) => !includes.includes(word)).map(({ name }) => name)
    if (others.length === 0) return []
    const what = EXTRA_WORK.some(extra => extra === word) ? `${word} work` : word
    const [only = '', second] = having
    if (second === undefined) {
      const text = `Only ${only} lists ${what} in its price. Check that the other quotes cover the same.`
      return [note('only-one-includes', options.find(({ name }) => name === only)?.id ?? null, text)]
    }
    const text = `The price includes ${what} for ${having.join('; ')}, not for ${others.join('; ')}. Check that all quotes cover the same.`
    return [note('includes-differ', null, text)]
  })
}

/** Panels of one rating. */
type Panels = Pick<RoofArray, 'panels' | 'panelW'>

/** The panels of the roof by their rating; none where no rating is given. */
function panelsOn({ generation, panels, panelW }: Site): readonly Panels[] {
  if (generation.form === 'arrays') return generation.arrays
  return panels === null || panelW === null ? [] : [{ panels, panelW }]
}

function panelsAgainstInverters(option: Option, arrays: readonly Panels[], limit: number): Note[] {
  if (arrays.length === 0) return []
  const notes: Note[] = []
  const dcKw = arrays.reduce((sum, array) => sum + (array.panels * array.panelW) / 1000, 0)
  const onWall = option.populations.filter(p => isCentralInverter(p.kind))
  const acKw = onWall.reduce((sum, p) => sum + p.count * (p.acKw ?? 0), 0)
  if (acKw > 0 && dcKw / acKw > limit + RATIO_SLACK) {
    const text =
      `${round(dcKw)} kW of panels on ${round(acKw)} kW of inverter is ${round(dcKw / acKw)} to 1; the limit given is ` +
      `${round(limit)}. Local rules and the maker's input limits decide.`
    notes.push(note('dc-ac-ratio', option.id, text))
  }
  for (const unit of option.populations) {
    if (!isPanelInverter(unit.kind) || unit.acKw === null) continue
    const panels = arrays.reduce((sum, array) => sum + array.panels, 0)
    const units = option.populations.reduce((sum, p) => sum + (isPanelInverter(p.kind) ? p.count : 0), 0)
    const largestKw = (Math.max(...arrays.map(array => array.panelW)) / 1000) * (panels / units)
    if (largestKw / unit.acKw <= limit + RATIO_SLACK) continue
    const text =
      `A unit of ${round(unit.acKw)} kW behind ${round(largestKw)} kW of panel is ${round(largestKw / unit.acKw)} to 1; ` +
      `the limit given is ${round(limit)}. It clips on clear days.`
    notes.push(note('unit-smaller-than-panel', option.id, text))
  }
  return notes
}

function networkLimit(option: Option, network: Scenario['site']['network']): Note[] {
  const { acLimitKwPerPhase, exportLimitKw, phases } = network
  if (acLimitKwPerPhase === null || exportLimitKw !== null) return []
  const acKw = option.populations.reduce((sum, p) => sum + (isSunInverter(p.kind) ? p.count * (p.acKw ?? 0) : 0), 0)
  if (acKw <= acLimitKwPerPhase * phases + 1e-9) return []
  const limit = round(acLimitKwPerPhase * phases)
  const text = `${option.name}: ${round(acKw)} kW of inverters is over the limit of ${limit} kW and no export limit is given. Ask the network.`
  return [note('over-ac-limit', option.id, text)]
}

function inputs(option: Option, arrays: readonly RoofArray[]): Note[] {
  if (TOPOLOGIES[option.topology].tracking === 'panel' || TOPOLOGIES[option.topology].tracking === 'all-optimisers') {
    return []
  }
  const nInputs = option.populations.reduce((sum, p) => sum + (isCentralInverter(p.kind) ? p.count * p.inputs : 0), 0)
  const aspects = new Set(arrays.map(array => `${array.azimuthDegrees}|${array.tiltDegrees}`)).size
  if (nInputs === 0 || aspects <= nInputs) return []
  const text = `The roof has ${aspects} aspects and the inverter ${nInputs} tracker input${nInputs === 1 ? '' : 's'}. Some panels must share one, and lose what the report shows as mismatch.`
  return [note('more-aspects-than-inputs', option.id, text)]
}

function shadeOnStrings(option: Option, arrays: readonly RoofArray[]): Note[] {
  const shaded = arrays.filter(isShaded).map(array => array.name)
  if (TOPOLOGIES[option.topology].tracking !== 'string' || shaded.length === 0) return []
  const text = `Shade falls on ${shaded.join(', ')} and on a plain string it takes a larger share of the energy than of the light. Optimisers on the shaded panels, or a string of their own, lose less.`
  return [note('shade-on-plain-string', option.id, text)]
}

/** Whether an array has any shade given. */
function isShaded(array: RoofArray): boolean {
  const { word, windows, horizon } = array.shade
  return word !== null || windows.length > 0 || horizon.length > 0
}

function note(code: string, option: string | null, text: string): Note {
  return { code, text, option }
}

function round(value: number): string {
  return String(Math.round(value * 100) / 100)
}
