import { existsSync } from 'node:fs'
import { dirname, resolve } from 'node:path'
import { oddCapacity, oddRating, oddYear, type Roof, tooCheap, tooDear } from '../../scenario/notes/plausible.ts'
import {
  askNumber,
  askOneOf,
  faultOfNumber,
  maybe,
  needed,
  numberAsTyped,
  type PromptChoice,
  words,
  yes,
} from './prompts.ts'
import type { AnsweredQuote, Answers, Energy, Face } from './scenario-text.ts'

const TOPOLOGIES: readonly PromptChoice<string>[] = [
  { value: 'string', label: 'One inverter on the wall', hint: 'string inverter' },
  { value: 'panel-level', label: 'A small inverter behind each panel', hint: 'micro-inverters' },
  { value: 'string-optimisers', label: 'One inverter, an optimiser on each panel' },
  { value: 'string-some-optimisers', label: 'One inverter, optimisers on some panels' },
  { value: 'hybrid', label: 'One inverter for panels and battery', hint: 'hybrid inverter' },
]

const QUALITIES: readonly PromptChoice<'' | 'robust'>[] = [
  { value: '', label: 'An ordinary one, or I do not know' },
  { value: 'robust', label: 'A dearer one, said to last longer' },
]

const DIRECTIONS: readonly PromptChoice<string>[] = [
  { value: '', label: 'I do not know', hint: 'taken as towards the equator' },
  ...['north', 'north-east', 'east', 'south-east', 'south', 'south-west', 'west', 'north-west'].map(value => ({
    value,
    label: value,
  })),
]

const SHADES: readonly PromptChoice<string>[] = [
  { value: '', label: 'None, or I do not know' },
  { value: 'light', label: 'Light', hint: 'for an hour or two, or a few panels' },
  { value: 'moderate', label: 'Moderate' },
  { value: 'heavy', label: 'Heavy', hint: 'half of the day' },
]

const CLIMATES: readonly PromptChoice<string>[] = [
  { value: '', label: 'I do not know', hint: 'taken as temperate' },
  ...['cloudy', 'temperate', 'sunny', 'dry'].map(value => ({ value, label: value })),
]

const PANELS = { least: 1, most: 100_000, whole: true } as const

/** Power of a panel where it is not known, used only to find answers that cannot be right; ours. */
const USUAL_PANEL_W = 400

/** Most faces of a roof that `--ask` asks for; a person with more writes them into the file. */
const MOST_FACES = 10

/**
 * Asks for the few things that quotes state, one after another.
 *
 * @param title - offered as the title
 * @param path - of the file to write: names of files are read from its folder
 * @throws Stopped when the person stops
 */
export async function askAll(title: string, path: string): Promise<Answers> {
  const shared = {
    title: await words('What is the roof called in the report?', title),
    currency: (await words('Currency of the prices (three letters)', 'EUR', /^[A-Za-z]{3}$/)).toUpperCase(),
    latitude: await askNumber('Latitude, degrees? South of the equator below zero.', { least: -65, most: 65 }),
    energy: await askEnergy(path),
  }
  const importPrice = await askNumber('Price of a kWh that you buy?', { least: 0, most: 1000 })
  const exportPrice = await askNumber('Price that you are paid for a kWh sold?', {
    least: 0,
    most: 1000,
    implausible: value => tooDear(value, importPrice),
  })
  const { energy } = shared
  const panels = energy.form === 'stated' ? energy.panels : energy.faces.reduce((sum, face) => sum + face.panels, 0)
  const roof = { panels, panelKw: (energy.panelW ?? USUAL_PANEL_W) / 1000, importPrice }
  const quotes: AnsweredQuote[] = []
  do quotes.push(await askQuote(quotes, roof))
  while (quotes.length < 50 && (await yes('Is there another quote?')))
  return { ...shared, importPrice, exportPrice, quotes }
}

/** Asks whether to play the file that was written. */
export function askToPlay(): Promise<boolean> {
  return yes('Play it now and write the report?')
}

/** The energy of a year that the quotes give; where none does, the faces of the roof. */
async function askEnergy(path: string): Promise<Energy> {
  const annualKwh = await askNumber('Energy of the first year, kWh? The quotes say it.', { least: 1, most: 1e9 })
  if (annualKwh !== null) {
    const panels = await needed('How many panels?', {
      ...PANELS,
      implausible: count => oddYear(annualKwh, count),
    })
    return { form: 'stated', annualKwh, panels, panelW: await askPower() }
  }
  const faces: Face[] = []
  do faces.push(await askFace(faces.length))
  while (faces.length < MOST_FACES && (await yes('Are there panels on another face of the roof?')))
  return {
    form: 'faces',
    faces,
    panelW: await askPower(),
    climate: await askOneOf('What is the weather like over the year?', CLIMATES),
    use: await askUse(path),
  }
}

async function askFace(before: number): Promise<Face> {
  return {
    panels: await needed(
      before === 0
        ? 'Then it is computed from the roof. How many panels are on its first face?'
        : 'How many panels are on it?',
      PANELS,
    ),
    azimuth: await askOneOf('Which way does it face?', DIRECTIONS),
    tilt: await askNumber('How steep is it, degrees from flat?', { least: 0, most: 90 }),
    shade: await askOneOf('How much shade falls on it?', SHADES),
  }
}

function askPower(): Promise<number | null> {
  return askNumber('Rated power of one panel, W?', { least: 50, most: 2000 })
}

/** Use of the house: kWh of a year, or a file of the meter. */
async function askUse(path: string): Promise<number | string | null> {
  const typed = await maybe('What does the house use in a year: kWh, or the name of a file from its meter?', said => {
    if (!/^[\d.,+-]/.test(said))
      return existsSync(resolve(dirname(path), said)) ? undefined : `there is no file ${said}`
    return faultOfNumber(said, { least: 1, most: 1e9 })
  })
  if (typed === null) return null
  return Number.isFinite(numberAsTyped(typed)) ? numberAsTyped(typed) : typed
}

async function askQuote(before: readonly AnsweredQuote[], roof: Roof): Promise<AnsweredQuote> {
  const taken = before.map(quote => quote.name)
  const name = await words('What is this quote called?', `Quote ${before.length + 1}`, /\S/, typed =>
    taken.includes(typed) ? 'another quote has that name' : undefined,
  )
  const topology = await askOneOf('What does it put on the roof?', TOPOLOGIES)
  const price = await needed('Its price, installed? Without one it cannot be compared.', {
    least: 0,
    most: 1e9,
    implausible: value => tooCheap(value, roof),
  })
  const optimisers =
    topology === 'string-some-optimisers'
      ? await needed('How many optimisers?', { least: 1, most: roof.panels, whole: true })
      : null
  const inverterKw =
    topology === 'panel-level'
      ? await askNumber('Rating of one small inverter, kW (such as 0.35)?', { least: 0.05, most: 2.5 })
      : await askNumber('Rating of the inverter, kW?', {
          least: 0.1,
          most: 100_000,
          implausible: value => oddRating(value, roof),
        })
  const tier = topology.startsWith('string') ? await askOneOf('What kind of inverter is it?', QUALITIES) : ''
  const warrantyYears = await askNumber('Warranty on it, years of parts?', { least: 0, most: 50 })
  const batteryKwh = await askNumber('Capacity of its battery, kWh? Leave empty if it has none.', {
    least: 0.1,
    most: 10_000,
    implausible: value => oddCapacity(value, roof),
  })
  return { name, topology, price, inverterKw, tier, warrantyYears, batteryKwh, optimisers }
}
