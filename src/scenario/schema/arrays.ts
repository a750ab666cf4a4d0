import * as z from 'zod'
import { number, oneOf, share, text, whole, wording } from './leaf.ts'
import { block, choice, type Flaw } from './walk.ts'

const pair = <Leaf extends z.ZodType>(leaf: Leaf, allowed: string) =>
  z.array(leaf, { error: wording(allowed) }).length(2, { error: wording(allowed) })

const panelRange = pair(whole(1, 100_000, 'panels'), 'how many panels, or the first and the last one like [4, 6]')

/** A shadow that recurs every day of some months (E4). */
export const shadeWindowBlock = block(
  {
    months: pair(whole(1, 12), 'first and last month like [10, 2]').meta({
      description: 'First and last month, both counted.',
      phrase: 'months of a shadow',
    }),
    hours: pair(number({ min: 0, max: 24 }, 'hours'), 'from and to like [14.5, 18]').meta({
      description: 'From and to, hours of solar time (12 is when the sun is highest).',
      phrase: 'hours of a shadow',
    }),
    panels: choice([whole(1, 100_000, 'panels'), panelRange], raw => (Array.isArray(raw) ? 1 : 0))
      .optional()
      .meta({
        description: 'How many panels, counted from the first, or [first, last]; default all.',
        phrase: 'panels in a shadow',
      }),
    beam_lost: share({ min: 0, max: 1, above: true }).meta({
      description: 'Share of the direct light taken; sky light stays.',
      phrase: 'direct light that a shadow takes',
    }),
  },
  window => {
    const flaws: Flaw[] = []
    const [from = 0, to = 0] = window.hours
    if (from >= to) flaws.push({ path: ['hours'], message: `from (${from}) must be before to (${to})` })
    const { panels } = window
    if (Array.isArray(panels) && (panels[0] ?? 0) > (panels[1] ?? 0))
      flaws.push({
        path: ['panels'],
        message: `the first panel (${panels[0]}) must not come after the last (${panels[1]})`,
      })
    return flaws
  },
)

const horizonPoint = block({
  azimuth: number({ min: 0, max: 360 }, 'degrees').meta({
    description: 'Bearing, degrees clockwise from north.',
    phrase: 'bearing of a point of the horizon',
  }),
  height: number({ min: 0, max: 90 }, 'degrees').meta({
    description: 'Height of what is there, degrees.',
    phrase: 'height of a point of the horizon',
  }),
})

const shadeWord = oneOf(['none', 'light', 'moderate', 'heavy'])

const shadeWindows = z
  .array(shadeWindowBlock, { error: wording('none, light, moderate, heavy, or a list of up to 200 windows') })
  .max(200, { error: wording('a list of up to 200 windows') })

/** Panels of one kind with the same tilt, azimuth and mounting. */
export const arrayBlock = block(
  {
    name: text().meta({ description: 'Name, e.g. south.', phrase: 'name of an array' }),
    panels: whole(1, 100_000, 'panels').meta({ description: 'Number of panels.', phrase: 'panels of an array' }),
    panel_w: number({ min: 1, max: 2000 }, 'W').meta({
      description: 'Rated power of one panel, W.',
      phrase: 'rated power of one panel',
    }),
    tilt: number({ min: 0, max: 90 }, 'degrees').meta({ description: 'Degrees from flat.', phrase: 'tilt' }),
    azimuth: number({ min: 0, max: 360 }, 'degrees').meta({
      description: 'Degrees clockwise from north: 90 east, 180 south, 270 west.',
      phrase: 'bearing',
    }),
    input: whole(1, 10_000).optional().meta({
      description: 'Tracker input it is wired to, counted over all inverters; default 1.',
      phrase: 'tracker input of an array',
    }),
    strings: whole(1, 10_000, 'strings').optional().meta({
      description: 'Parallel strings within the array; default as few as keep to 20 panels.',
      phrase: 'strings of an array',
    }),
    wiring: oneOf(['series', 'parallel']).optional().meta({
      description: 'How it joins others on its input; default parallel where strings are equally long, else series.',
      phrase: 'wiring of an array',
    }),
    mounting: oneOf(['close-roof', 'rack', 'open'])
      .optional()
      .meta({ description: 'How air gets behind the panels; default close-roof.', phrase: 'mounting of an array' }),
    shade: choice([shadeWord, shadeWindows], raw => (typeof raw === 'object' ? 1 : 0))
      .optional()
      .meta({
        description: 'A word (none, light, moderate, heavy) or a list of windows; default none.',
        phrase: 'shade of an array',
      }),
    horizon: z
      .array(horizonPoint, { error: wording('a list of points like {azimuth: 90, height: 12}') })
      .max(360, { error: wording('a list of up to 360 points') })
      .optional()
      .meta({ description: 'Outline of the surroundings; hides the sun below it.', phrase: 'horizon of an array' }),
  },
  array => {
    const flaws: Flaw[] = []
    if (typeof array.shade === 'object')
      array.shade.forEach((window, index) => {
        const last = Array.isArray(window.panels) ? window.panels[1] : window.panels
        if (last !== undefined && last > array.panels)
          flaws.push({
            path: ['shade', index, 'panels'],
            message: `found panel ${last}; the array has ${array.panels}`,
          })
      })
    if (typeof array.shade === 'string' && array.shade !== 'none' && array.horizon !== undefined)
      flaws.push({ path: ['horizon'], message: 'a word for shade covers all of it; keep the word or the line' })
    if (array.strings !== undefined && array.strings > array.panels)
      flaws.push({ path: ['strings'], message: `found ${array.strings} strings for ${array.panels} panels` })
    return flaws
  },
)

/** The arrays of a roof. */
export const arrayList = z
  .array(arrayBlock, { error: wording('a list of 1 to 200 arrays') })
  .min(1, { error: wording('a list of 1 to 200 arrays') })
  .max(200, { error: wording('a list of 1 to 200 arrays') })

/** An array as written. */
export type GivenArray = z.output<typeof arrayBlock>
