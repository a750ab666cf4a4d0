import type { Note, Scenario } from '../scenario/model.ts'
import { middle } from '../scenario/quantity.ts'
import { DAYS_PER_YEAR } from '../units.ts'

/**
 * Where some options have a battery and others none: what each battery earns, to be set against the difference (O7).
 *
 * @param scenario - the scenario
 * @returns one note an option with a battery of a stated value; none where all options have one, or none has
 */
export function batteryNotes(scenario: Scenario): Note[] {
  const { options, horizonYears, discountRate, currency } = scenario
  const withBattery = options.filter(option => option.battery !== null)
  if (withBattery.length === 0 || withBattery.length === options.length) return []
  // continuous income over the horizon, discounted at its own moment (C2)
  const rate = Math.log1p(discountRate)
  const years = rate === 0 ? horizonYears : -Math.expm1(-rate * horizonYears) / rate
  return withBattery.map(({ id, name, battery }) => {
    const value = middle(battery?.valuePerDay ?? 0) * DAYS_PER_YEAR * years
    return {
      code: 'battery-value',
      text: `${name} has a battery and another option has none. What the battery earns is not counted as income; while it works it is worth about ${currency} ${grouped(value)} over ${horizonYears} years in today's money, to be set against the difference.`,
      option: id,
    }
  })
}

/** To the nearest ten, in groups of three digits. */
function grouped(value: number): string {
  return String(Math.round(value / 10) * 10).replace(/\B(?=(\d{3})+$)/g, ',')
}
