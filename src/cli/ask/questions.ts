import { confirm, isCancel, select, text } from '@clack/prompts'
import type { AnsweredQuote, Answers } from './scenario-text.ts'

/** The person stopped answering. */
export class Stopped extends Error {}

const TOPOLOGIES = [
  { value: 'string', label: 'One inverter on the wall', hint: 'string inverter' },
  { value: 'panel-level', label: 'A small inverter behind each panel', hint: 'micro-inverters' },
  { value: 'string-optimisers', label: 'One inverter, an optimiser on each panel' },
  { value: 'string-some-optimisers', label: 'One inverter, optimisers on some panels' },
  { value: 'hybrid', label: 'One inverter for panels and battery', hint: 'hybrid inverter' },
]

const SKIP = 'empty: I do not know'

/**
 * Asks for the few things that quotes state, one after another.
 *
 * @param title - offered as the title
 * @throws Stopped when the person stops
 */
export async function askAll(title: string): Promise<Answers> {
  const shared = {
    title: await words('What is the roof called in the report?', title),
    currency: (await words('Currency of the prices (three letters)', 'EUR', /^[A-Za-z]{3}$/)).toUpperCase(),
    panels: await needed('How many panels?', 1, 100_000),
    panelW: await number('Rated power of one panel, W?', 1, 2000),
    annualKwh: await number('Energy of the first year, kWh? The quotes say it.', 1, 1e9),
    latitude: await number('Latitude, degrees? South of the equator below zero.', -65, 65),
    importPrice: await number('Price of a kWh that you buy?', 0, 1000),
    exportPrice: await number('Price that you are paid for a kWh sold?', 0, 1000),
  }
  const quotes: AnsweredQuote[] = []
  do quotes.push(await askQuote(quotes, shared.panels))
  while (quotes.length < 50 && answered(await confirm({ message: 'Is there another quote?' })))
  return { ...shared, quotes }
}

/** Asks whether to play the file that was written. */
export async function askToPlay(): Promise<boolean> {
  return answered(await confirm({ message: 'Play it now and write the report?' }))
}

async function askQuote(before: readonly AnsweredQuote[], panels: number): Promise<AnsweredQuote> {
  const usual = `Quote ${before.length + 1}`
  const taken = before.map(quote => quote.name)
  const name = await words(
    'What is this quote called?',
    usual,
    /\S/,
    typed => !taken.includes(typed),
    'another quote has that name',
  )
  const topology = answered(await select({ message: 'What does it put on the roof?', options: TOPOLOGIES }))
  const price = await needed('Its price, installed?', 0, 1e9, false)
  const optimisers = topology === 'string-some-optimisers' ? await needed('How many optimisers?', 1, panels) : null
  const small = topology === 'panel-level'
  const inverterKw = await number(
    small ? 'Rating of one small inverter, kW (such as 0.35)?' : 'Rating of the inverter, kW?',
    0.01,
    small ? 2.5 : 100_000,
  )
  const warrantyYears = await number('Warranty on it, years of parts?', 0, 100)
  const batteryKwh = await number('Capacity of its battery, kWh? Leave empty if it has none.', 0.1, 10_000)
  return { name, topology, price, inverterKw, warrantyYears, batteryKwh, optimisers }
}

function answered<Answer>(answer: Answer): Exclude<Answer, symbol> {
  if (isCancel(answer)) throw new Stopped()
  // The sign of stopping is the only symbol.
  return answer as Exclude<Answer, symbol>
}

async function words(
  message: string,
  usual: string,
  form = /\S/,
  fits: (typed: string) => boolean = () => true,
  fault = '',
): Promise<string> {
  const check = (typed = ''): string | undefined => {
    const meant = typed.trim() === '' ? usual : typed.trim()
    if (!form.test(meant) || meant.length > 200) return `write it like ${usual}`
    return fits(meant) ? undefined : fault
  }
  const typed = answered(await text({ message, placeholder: usual, defaultValue: usual, validate: check }))
  return typed.trim() === '' ? usual : typed.trim()
}

async function number(message: string, least: number, most: number): Promise<number | null> {
  const validate = (typed = '') => (typed.trim() === '' ? undefined : faultOf(typed, least, most, false))
  const typed = answered(await text({ message, placeholder: SKIP, defaultValue: '', validate }))
  return typed.trim() === '' ? null : Number(typed.trim())
}

async function needed(message: string, least: number, most: number, whole = true): Promise<number> {
  return Number(answered(await text({ message, validate: (typed = '') => faultOf(typed, least, most, whole) })))
}

function faultOf(typed: string, least: number, most: number, whole: boolean): string | undefined {
  const value = typed.trim() === '' ? Number.NaN : Number(typed)
  if (value >= least && value <= most && (!whole || Number.isInteger(value))) return undefined
  return `write a ${whole ? 'whole ' : ''}number from ${least} to ${most}, with a point for decimals and without a unit`
}
