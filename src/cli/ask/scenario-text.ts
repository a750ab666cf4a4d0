/** One quote as answered; null: not known. */
export interface AnsweredQuote {
  readonly name: string
  readonly topology: string
  readonly price: number
  readonly inverterKw: number | null
  readonly warrantyYears: number | null
  readonly batteryKwh: number | null
  readonly optimisers: number | null
}

/** What was answered; null: not known. */
export interface Answers {
  readonly title: string
  readonly currency: string
  readonly panels: number
  readonly panelW: number | null
  readonly annualKwh: number | null
  readonly latitude: number | null
  readonly importPrice: number | null
  readonly exportPrice: number | null
  readonly quotes: readonly AnsweredQuote[]
}

/** Stand-ins for what is not known; ours, each said in the file. A year of a kW of panels in a temperate climate, kWh. */
const USUAL = { panelW: 400, kwhAKw: 1000, importPrice: 0.3, exportPrice: 0.08 } as const

/**
 * A scenario as short as a person would write it, from the answers to the questions of `new --ask`.
 *
 * @param answers - what was answered
 * @returns YAML
 */
export function scenarioText(answers: Answers): string {
  const { title, currency, panels, panelW, annualKwh, latitude, importPrice, exportPrice, quotes } = answers
  const guessed = Math.round((panels * (panelW ?? USUAL.panelW) * USUAL.kwhAKw) / 1000)
  const unknown = (given: number | null, remark: string) => (given === null ? `   # not known: ${remark}` : '')
  return [
    `title: ${JSON.stringify(title)}`,
    `currency: ${currency}`,
    'prices_from_evidence: yes   # repair prices; put your own in their place where you know them',
    'site:',
    `  panels: ${panels}`,
    ...(panelW === null ? [] : [`  panel_w: ${panelW}`]),
    ...(latitude === null ? [] : [`  location: {latitude: ${latitude}}`]),
    `  generation: {annual_kwh: ${annualKwh ?? guessed}}${unknown(annualKwh, `${USUAL.kwhAKw} kWh for each kW of panels; a quote says it`)}`,
    '  energy_value:',
    `    import_price_per_kwh: ${importPrice ?? USUAL.importPrice}${unknown(importPrice, 'look at a bill')}`,
    `    export_price_per_kwh: ${exportPrice ?? USUAL.exportPrice}${unknown(exportPrice, 'look at a bill')}`,
    'options:',
    ...quotes.map(quoteLine),
    '',
  ].join('\n')
}

function quoteLine(quote: AnsweredQuote): string {
  const parts = [
    `name: ${JSON.stringify(quote.name)}`,
    `topology: ${quote.topology}`,
    `upfront_cost: ${quote.price}`,
    ...(quote.inverterKw === null ? [] : [`inverter_kw: ${quote.inverterKw}`]),
    ...(quote.optimisers === null ? [] : [`optimisers: ${quote.optimisers}`]),
    ...(quote.batteryKwh === null ? [] : [`battery_kwh: ${quote.batteryKwh}`]),
    ...(quote.warrantyYears === null ? [] : [`warranty: ${quote.warrantyYears} years`]),
  ]
  return `  - {${parts.join(', ')}}`
}
