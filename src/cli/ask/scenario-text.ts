/** One quote as answered; null: not known. */
export interface AnsweredQuote {
  readonly name: string
  readonly topology: string
  readonly price: number
  readonly inverterKw: number | null
  readonly tier: '' | 'robust'
  readonly warrantyYears: number | null
  readonly batteryKwh: number | null
  readonly optimisers: number | null
}

/** One face of the roof as answered; null or empty: not known. */
export interface Face {
  readonly panels: number
  readonly azimuth: string
  readonly tilt: number | null
  readonly shade: string
}

/** What is known of the energy: a year as stated, or the faces of the roof. */
export type Energy =
  | { readonly form: 'stated'; readonly annualKwh: number; readonly panels: number; readonly panelW: number | null }
  | {
      readonly form: 'faces'
      readonly faces: readonly Face[]
      readonly panelW: number | null
      readonly climate: string
      /** Use of the house: kWh of a year, or name of a file; null: not known. */
      readonly use: number | string | null
    }

/** What was answered; null: not known. */
export interface Answers {
  readonly title: string
  readonly currency: string
  readonly latitude: number | null
  readonly energy: Energy
  readonly importPrice: number | null
  readonly exportPrice: number | null
  readonly quotes: readonly AnsweredQuote[]
}

/** Values taken where nothing is known; ours, each marked in the file. inverterShare is that behind the evidence figure ac_kw_per_panel. */
const USUAL = {
  panelW: 400,
  latitude: 45,
  tilt: 30,
  importPrice: 0.3,
  exportPrice: 0.08,
  inverterShare: 1 / 1.2,
} as const

/**
 * A scenario as short as a person would write it, from the answers to the questions of `new --ask`.
 *
 * @param answers - what was answered
 * @returns YAML
 */
export function scenarioText(answers: Answers): string {
  const { title, currency, energy, importPrice, exportPrice, quotes } = answers
  return [
    `title: ${JSON.stringify(title)}`,
    `currency: ${currency}`,
    'prices_from_evidence: yes   # repair prices; put your own in their place where you know them',
    'site:',
    ...(energy.form === 'stated' ? stated(energy, answers.latitude) : faced(energy, answers.latitude)),
    '  energy_value:',
    `    import_price_per_kwh: ${importPrice ?? USUAL.importPrice}${unless(importPrice, 'look at a bill')}`,
    `    export_price_per_kwh: ${exportPrice ?? USUAL.exportPrice}${unless(exportPrice, 'look at a bill')}`,
    'options:',
    ...quotes.map(quote => quoteLine(quote, energy)),
    '',
  ].join('\n')
}

function stated({ annualKwh, panels, panelW }: Energy & { form: 'stated' }, latitude: number | null): string[] {
  return [
    `  panels: ${panels}`,
    ...(panelW === null ? [] : [`  panel_w: ${panelW}`]),
    ...(latitude === null ? [] : [`  location: {latitude: ${latitude}}`]),
    `  generation: {annual_kwh: ${annualKwh}}`,
  ]
}

function faced({ faces, panelW, climate, use }: Energy & { form: 'faces' }, latitude: number | null): string[] {
  const place = latitude ?? USUAL.latitude
  const sky = climate === '' ? 'temperate' : climate
  const unknown = [latitude === null ? 'latitude' : '', climate === '' ? 'climate' : ''].filter(word => word !== '')
  return [
    `  panel_w: ${panelW ?? USUAL.panelW}${unless(panelW, 'the quote says it')}`,
    `  location: {latitude: ${place}, climate: ${sky}}${unless(unknown.length > 0 ? null : place, unknown.join(' and '))}`,
    '  generation:',
    '    arrays:',
    ...faces.map(face => faceLine(face, place)),
    ...(use === null
      ? []
      : [`  load: {${typeof use === 'number' ? 'annual_kwh' : 'hourly_csv'}: ${JSON.stringify(use)}}`]),
  ]
}

function faceLine({ panels, azimuth, tilt, shade }: Face, latitude: number): string {
  const towards = azimuth === '' ? (latitude < 0 ? 'north' : 'south') : azimuth
  const unknown = [azimuth === '' ? 'azimuth' : '', tilt === null ? 'tilt' : ''].filter(word => word !== '')
  const parts = [`panels: ${panels}`, `tilt: ${tilt ?? USUAL.tilt}`, `azimuth: ${towards}`]
  if (shade !== '') parts.push(`shade: ${shade}`)
  return `      - {${parts.join(', ')}}${unless(unknown.length > 0 ? null : panels, unknown.join(' and '))}`
}

/** A remark on a value that was taken; nothing where the value is known. */
function unless(given: unknown, remark: string): string {
  return given === null ? `   # not known: ${remark}` : ''
}

function quoteLine(quote: AnsweredQuote, energy: Energy): string {
  // clipping is computed from the faces, and needs a rating
  const guessed = quote.inverterKw === null && energy.form === 'faces'
  const inverterKw = guessed ? usualKw(quote, energy) : quote.inverterKw
  const parts = [
    `name: ${JSON.stringify(quote.name)}`,
    `topology: ${quote.topology}`,
    `upfront_cost: ${quote.price}`,
    ...(inverterKw === null ? [] : [`inverter_kw: ${inverterKw}`]),
    ...(quote.tier === '' ? [] : [`tier: ${quote.tier}`]),
    ...(quote.optimisers === null ? [] : [`optimisers: ${quote.optimisers}`]),
    ...(quote.batteryKwh === null ? [] : [`battery_kwh: ${quote.batteryKwh}`]),
    ...(quote.warrantyYears === null ? [] : [`warranty: ${quote.warrantyYears} years`]),
  ]
  return `  - {${parts.join(', ')}}${unless(guessed ? null : (inverterKw ?? 0), 'inverter_kw; the quote says it')}`
}

function usualKw({ topology }: AnsweredQuote, { faces, panelW }: Energy & { form: 'faces' }): number {
  const panels = topology === 'panel-level' ? 1 : faces.reduce((sum, face) => sum + face.panels, 0)
  return Number(((panels * (panelW ?? USUAL.panelW) * USUAL.inverterShare) / 1000).toPrecision(2))
}
