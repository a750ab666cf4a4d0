/**
 * Finds answers that cannot be right: a lost comma, thousands instead of units, cents instead of euros. The limits are ours
 * and so wide that no real quote passes them. Each function returns words for the person, or undefined.
 */

/** What is known of the roof when a quote is examined. */
export interface Roof {
  readonly panels: number
  readonly panelKw: number
  /** Price of a kWh bought; null: not known. */
  readonly importPrice: number | null
}

/**
 * A year's energy against the number of panels.
 *
 * @param annualKwh - of the first year
 * @param panels - on the roof
 */
export function oddYear(annualKwh: number, panels: number): string | undefined {
  const each = annualKwh / panels
  if (each >= 30 && each <= 1500) return undefined
  return `${annualKwh} kWh from ${panels} panels is ${Number(each.toPrecision(2))} kWh for each; usual is 150 to 900`
}

/**
 * A price sold at against the price bought at.
 *
 * @param sold - a kWh
 * @param bought - a kWh; null: not known
 */
export function tooDear(sold: number, bought: number | null): string | undefined {
  if (bought === null || bought === 0 || sold <= 3 * bought) return undefined
  return `that is ${Math.round(sold / bought)} times what you buy at: write it in the same money, such as 0.08`
}

/**
 * A price of a quote against what its energy is worth.
 *
 * @param price - installed
 * @param roof - the roof
 */
export function tooCheap(price: number, { panels, importPrice }: Roof): string | undefined {
  if (importPrice === null || price === 0 || price >= 30 * importPrice * panels) return undefined
  return `${price} for ${panels} panels is less than 30 kWh a panel are worth: write the whole price`
}

/**
 * The rating of an inverter against the panels.
 *
 * @param kw - of the inverter
 * @param roof - the roof
 */
export function oddRating(kw: number, { panels, panelKw }: Roof): string | undefined {
  const panelsKw = panels * panelKw
  if (kw >= panelsKw / 5 && kw <= panelsKw * 3) return undefined
  return `an inverter of ${kw} kW for ${Number(panelsKw.toPrecision(2))} kW of panels? Write its rating in kW`
}

/**
 * The capacity of a battery against the panels.
 *
 * @param kwh - usable
 * @param roof - the roof
 */
export function oddCapacity(kwh: number, { panels, panelKw }: Roof): string | undefined {
  return kwh > 15 * panels * panelKw
    ? 'that is more than the roof gives in two summer days: write it in kWh'
    : undefined
}
